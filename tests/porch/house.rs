//! A house over a store on disk whose porch is open, with its scheduler and its dispatcher at work.

use std::sync::Arc;

use tokio::net::TcpListener;
use tokio::task::JoinHandle;
use wrackline::outbox::Dispatcher;
use wrackline::store::sqlite::SqliteStore;
use wrackline::{engine, web};
use wrackline_tests::binary::Shell;
use wrackline_tests::house::TestHouse;

/// Where the place lies.
const ZONE: &str = "Europe/London";

/// A house whose porch is open: Ada is its keeper, Bea a regular carer.
pub(super) struct PorchHouse {
    pub(super) house: TestHouse,
    pub(super) port: u16,
    shell: Shell,
    tasks: Vec<JoinHandle<()>>,
}

impl Drop for PorchHouse {
    fn drop(&mut self) {
        for task in &self.tasks {
            task.abort();
        }
    }
}

impl PorchHouse {
    /// Opens the porch on a free port, at noon of 1 March 2026.
    pub(super) async fn open() -> Self {
        let shell = Shell::new();
        let database = shell.database();
        std::fs::create_dir_all(database.parent().expect("a folder")).expect("the folder is made");
        let store = SqliteStore::open(&database).await.expect("the store opens");
        let mut house = TestHouse::over(Arc::new(store), ZONE).await;
        for line in [
            "/rounds add morning 08:00",
            "/rounds add evening 19:30",
            "/carer add Bea regular",
            "/enclosure add North 400 L crabs 4 smallest 2 cm largest 5 cm",
            "/pool add north fresh 8 L",
            "/pool add north salt 8 L",
        ] {
            house.say(line).await;
        }
        let listener = TcpListener::bind("127.0.0.1:0").await.expect("a port");
        let port = listener.local_addr().expect("an address").port();
        let router = web::router(house.app.web(web::loopback_hosts(port), None));
        let dispatcher = Dispatcher::new(
            house.app.house.clone(),
            house.app.porch.clone(),
            "test".to_owned(),
        );
        let served = async move {
            web::serve(listener, router, std::future::pending())
                .await
                .expect("it serves")
        };
        let tasks = vec![
            tokio::spawn(served),
            tokio::spawn(engine::run(house.app.house.clone())),
            tokio::spawn(dispatcher.run()),
        ];
        Self {
            house,
            port,
            shell,
            tasks,
        }
    }

    /// Puts the clock to a moment and lets the house look at it.
    pub(super) fn at(&self, local: &str) {
        self.house.at(local);
        self.house.app.house.bell.ring();
    }

    /// The address of a page.
    pub(super) fn url(&self, path: &str) -> String {
        format!("http://127.0.0.1:{}{path}", self.port)
    }

    /// A link as the shell prints it, brought to the port where this porch is.
    pub(super) fn link(&self, who: &str) -> String {
        let printed = self.shell.run(&["link", "--as", who]).done();
        let (_, token) = printed.trim().rsplit_once("/enter/").expect("a link");
        self.url(&format!("/enter/{token}"))
    }

    /// How many entries the journal has of what was said.
    pub(super) async fn head(&self) -> i64 {
        let tail = self
            .house
            .store
            .tail(self.house.place, 0)
            .await
            .expect("the journal is read");
        // What the house shares out and publishes comes when its moment comes.
        let said = |row: &&wrackline::store::EntryRow| row.by != 0;
        i64::try_from(tail.entries.iter().filter(said).count()).expect("few")
    }
}
