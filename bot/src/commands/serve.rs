//! `wrackline serve`: the process that answers, posts and calls.

use std::path::Path;
use std::sync::Arc;
use std::time::Duration;

use clap::Args;
use tokio::net::TcpListener;
use tokio::signal::unix::{Signal, SignalKind, signal};
use tokio::sync::watch;

use super::{Failure, Outcome, lock, no_place, open, random_letters, socket};
use crate::app::App;
use crate::chat::discord::gateway::Gateway;
use crate::clock::{MachineClock, wait};
use crate::config::{Broken, Config};
use crate::{engine, keeping, outbox, web};

/// How long the parts may take to end.
const LEAVE_WITHIN: Duration = Duration::from_secs(8);

/// How long what another process wrote may lie before this one looks, on a database that several share.
const OTHERS: Duration = Duration::from_secs(2);

/// Serve the porch, post rounds, call what is late.
#[derive(Debug, Args)]
pub(super) struct Serve {}

impl Serve {
    /// Serves until it is told to stop.
    ///
    /// # Errors
    /// Broken when the store, its lock or the address cannot be had.
    pub(super) async fn run(self, config: &Config) -> Outcome {
        // Several may serve one database of a server; a file is one serve's.
        let lock = match config.database.file() {
            Some(file) => Some(take_file(file)?),
            None => None,
        };
        let store = open(config).await?;
        let app = Arc::new(App::new(store.clone(), Arc::new(MachineClock)));
        let listener = bind(config).await?;
        let platform = config.platform.as_ref().map(|settings| app.platform(settings));
        let platform = platform.transpose()?;
        // With the platform the first place is made there, by the line that links a server.
        if platform.is_none() && store.places().await?.is_empty() {
            return Err(no_place());
        }
        tracing::info!(address = %listener.local_addr()?, "the porch is open");
        let served = run_all(app, config.database.file(), listener, config, platform).await;
        store.close().await;
        drop(lock);
        served
    }
}

fn take_file(file: &Path) -> Result<std::fs::File, Failure> {
    if let Some(folder) = file.parent().filter(|folder| !folder.as_os_str().is_empty()) {
        std::fs::create_dir_all(folder).map_err(|error| {
            Failure::Broken(format!(
                "{} (WRACKLINE_DATA) cannot be made: {error}.",
                folder.display()
            ))
        })?;
    }
    take_lock(file)
}

/// Takes the lock of a database, or says that another serve has it.
pub(super) fn take_lock(database: &Path) -> Result<std::fs::File, Failure> {
    lock(database)?.ok_or_else(|| {
        Failure::Broken(format!(
            "Another serve runs on {} (WRACKLINE_DATA): stop it, or name another folder.",
            database.display()
        ))
    })
}

async fn bind(config: &Config) -> Result<TcpListener, Failure> {
    TcpListener::bind(config.bind).await.map_err(|error| {
        Failure::Broken(format!(
            "{} (WRACKLINE_BIND) cannot be listened on: {error}. Name another address or port.",
            config.bind
        ))
    })
}

/// Runs all parts until the process is told to stop, or the platform will not have it. Beside a database file, lines
/// from the shell are heard too.
pub(super) async fn run_all(
    app: Arc<App>,
    file: Option<&Path>,
    listener: TcpListener,
    config: &Config,
    platform: Option<Gateway>,
) -> Result<(), Failure> {
    let told_to_stop = told_to_stop();
    let mut hosts = config.hosts.clone();
    let address = listener.local_addr()?;
    hosts.extend(web::loopback_hosts(address.port()));
    app.set_porch(address);
    let shell = file.map(socket::listen).transpose()?;
    let chat = app.way_out(platform.as_ref());
    let dispatcher = outbox::Dispatcher::new(app.house.clone(), chat, random_letters());
    let mut tasks = vec![
        tokio::spawn(engine::run(app.house.clone())),
        tokio::spawn(dispatcher.run()),
        tokio::spawn(keeping::run(
            app.porch.store.clone(),
            app.house.clock.clone(),
            config.photo_days,
        )),
    ];
    tasks.push(match shell {
        Some(shell) => tokio::spawn(socket::serve(shell, app.clone())),
        None => tokio::spawn(look_for_others(app.clone())),
    });
    let connected = platform.as_ref().map(|gateway| gateway.state.connected.clone());
    let (stop, stopping) = watch::channel(false);
    let mut told = stopping.clone();
    let mut pages = tokio::spawn(web::serve(
        listener,
        web::router(app.web(hosts, connected)),
        async move {
            // The sender lives as long as this is awaited.
            let _ = told.wait_for(|stop| *stop).await;
        },
    ));
    let mut talk = tokio::spawn(keep(platform, stopping));
    let ended: Result<(), Failure> = tokio::select! {
        () = told_to_stop => Ok(()),
        ended = &mut talk => ended.unwrap_or_else(broke_off).map_err(Failure::from),
        ended = &mut pages => ended.unwrap_or_else(|error| Err(error.into())).map_err(Failure::from),
    };
    stop.send_replace(true);
    let leaving = async {
        if !talk.is_finished() {
            let _ = (&mut talk).await;
        }
        if !pages.is_finished() {
            let _ = (&mut pages).await;
        }
    };
    if tokio::time::timeout(LEAVE_WITHIN, leaving).await.is_err() {
        tracing::warn!("not all connections ended in time");
    }
    for task in tasks {
        task.abort();
    }
    ended
}

/// Keeps the platform's connection where there is one, until the process is told to stop.
async fn keep(platform: Option<Gateway>, mut stopping: watch::Receiver<bool>) -> Result<(), Broken> {
    match platform {
        Some(gateway) => gateway.run(stopping).await,
        None => {
            let _ = stopping.wait_for(|stop| *stop).await;
            Ok(())
        }
    }
}

fn broke_off(error: tokio::task::JoinError) -> Result<(), Broken> {
    Err(Broken(format!(
        "The connection to the platform broke off: {error}."
    )))
}

/// Wakes engine and dispatcher now and then, where other processes write without a word to this one.
async fn look_for_others(app: Arc<App>) {
    loop {
        wait(OTHERS).await;
        app.house.bell.ring();
    }
}

/// Ends when the process is interrupted or terminated. It is listened for from the call on, not from the first look at
/// what it gives: whoever is told to stop before would end in the middle of things.
fn told_to_stop() -> impl Future<Output = ()> {
    let listen = |kind: SignalKind| {
        signal(kind)
            .inspect_err(|error| tracing::warn!(%error, "termination cannot be listened for"))
            .ok()
    };
    let (interrupted, terminated) = (listen(SignalKind::interrupt()), listen(SignalKind::terminate()));
    let comes = async |signal: Option<Signal>| match signal {
        Some(mut signal) => {
            let _ = signal.recv().await;
        }
        None => std::future::pending().await,
    };
    async move {
        tokio::select! {
            () = comes(interrupted) => {}
            () = comes(terminated) => {}
        }
    }
}
