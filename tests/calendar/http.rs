//! A house whose porch is open, with two people and their calendars.

use reqwest::header::{ETAG, IF_NONE_MATCH};
use tokio::net::TcpListener;
use tokio::task::JoinHandle;
use wrackline::shelf::row;
use wrackline::store::Change;
use wrackline::{engine, web};
use wrackline_core::journal::{Entry, Event};
use wrackline_core::place::CarerId;
use wrackline_tests::house::TestHouse;

/// Ada, the keeper, and Bea.
pub(super) const ADA: u32 = 1;
pub(super) const BEA: u32 = 2;

/// A reply to a request.
#[derive(Debug)]
pub(super) struct Reply {
    pub(super) status: u16,
    pub(super) tag: Option<String>,
    pub(super) body: String,
}

/// The house, its porch open on a free port.
pub(super) struct Open {
    pub(super) house: TestHouse,
    client: reqwest::Client,
    served: JoinHandle<()>,
}

impl Drop for Open {
    fn drop(&mut self) {
        self.served.abort();
    }
}

impl Open {
    /// Opens it at noon of 1 March 2026, with turns published.
    pub(super) async fn porch() -> Self {
        let mut house = TestHouse::new("Europe/Berlin").await;
        for line in [
            "/place set name Club",
            "/rounds add morning 08:00",
            "/carer add Bea regular",
            "/enclosure add North 400 L room Study crabs 4 smallest 2 cm largest 5 cm",
            "/pool add north fresh 8 L",
            "/pool add north salt 8 L",
        ] {
            house.say(line).await;
        }
        let listener = TcpListener::bind("127.0.0.1:0").await.expect("a port");
        let address = listener.local_addr().expect("an address");
        house.app.set_porch(address);
        let router = web::router(house.app.web(web::loopback_hosts(address.port()), None));
        let served = tokio::spawn(async move {
            web::serve(listener, router, std::future::pending())
                .await
                .expect("it serves");
        });
        let open = Self {
            house,
            client: reqwest::Client::builder().no_proxy().build().expect("a client"),
            served,
        };
        open.at("2026-03-01 12:00").await;
        open
    }

    /// Puts the clock to a moment and lets the engine do what it calls for.
    pub(super) async fn at(&self, local: &str) {
        self.house.at(local);
        while engine::step(&self.house.app.house).await.expect("a step") > 0 {}
    }

    /// Says `/link calendar` and more, and returns the address that is told.
    pub(super) async fn link(&mut self, carer: u32, more: &str) -> String {
        let (ok, told) = self.house.say_as(carer, &format!("/link calendar {more}")).await;
        assert!(ok, "{told}");
        let address = told.split_whitespace().find(|word| word.starts_with("http://"));
        address
            .unwrap_or_else(|| panic!("no address in {told}"))
            .to_owned()
    }

    /// Asks for an address; with what the asker has already, where they have something.
    pub(super) async fn get(&self, address: &str, has: Option<&str>) -> Reply {
        let mut request = self.client.get(address);
        if let Some(has) = has {
            request = request.header(IF_NONE_MATCH, has);
        }
        let response = request.send().await.expect("a response");
        Reply {
            status: response.status().as_u16(),
            tag: response
                .headers()
                .get(ETAG)
                .map(|tag| tag.to_str().expect("a tag").to_owned()),
            body: response.text().await.expect("a body"),
        }
    }

    /// Writes an entry as the house would, in somebody's name.
    pub(super) async fn write(&self, by: u32, event: Event) {
        let (store, place) = (&self.house.store, self.house.place);
        let head = store.head(place).await.expect("a head").expect("the place");
        let now = self.house.app.house.clock.now();
        let entry = Entry::at_once(head.last_seq.unsigned_abs() + 1, now, CarerId(by), event);
        let change = Change {
            entries: vec![row(&entry)],
            ..Change::default()
        };
        store
            .commit(place, head.version, &change)
            .await
            .expect("a commit");
    }
}
