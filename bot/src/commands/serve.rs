//! `wrackline serve`: the process that answers, posts and calls.

use std::path::Path;
use std::sync::Arc;

use clap::Args;
use tokio::net::TcpListener;

use super::{Failure, Outcome, lock, no_place, open, random_letters, socket};
use crate::app::App;
use crate::clock::MachineClock;
use crate::config::Config;
use crate::{engine, keeping, outbox, web};

/// Serve the porch, post rounds, call what is late.
#[derive(Debug, Args)]
pub(super) struct Serve {}

impl Serve {
    /// Serves until it is told to stop.
    ///
    /// # Errors
    /// Broken when the store, its lock or the address cannot be had.
    pub(super) async fn run(self, config: &Config) -> Outcome {
        if let Some(folder) = config
            .database
            .parent()
            .filter(|folder| !folder.as_os_str().is_empty())
        {
            std::fs::create_dir_all(folder).map_err(|error| {
                Failure::Broken(format!(
                    "{} (WRACKLINE_DATA) cannot be made: {error}.",
                    folder.display()
                ))
            })?;
        }
        let lock = take_lock(&config.database)?;
        let store = open(config).await?;
        let app = Arc::new(App::new(store.clone(), Arc::new(MachineClock)));
        let listener = bind(config).await?;
        if store.places().await?.is_empty() {
            return Err(no_place());
        }
        tracing::info!(address = %listener.local_addr()?, "the porch is open");
        run_all(app, &config.database, listener, config).await?;
        store.close().await;
        drop(lock);
        Ok(())
    }
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

/// Runs all parts until the process is told to stop.
pub(super) async fn run_all(
    app: Arc<App>,
    database: &Path,
    listener: TcpListener,
    config: &Config,
) -> Result<(), Failure> {
    let mut hosts = config.hosts.clone();
    hosts.extend(web::loopback_hosts(listener.local_addr()?.port()));
    let shell = socket::listen(database)?;
    let dispatcher = outbox::Dispatcher::new(app.house.clone(), app.porch.clone(), random_letters());
    let tasks = [
        tokio::spawn(engine::run(app.house.clone())),
        tokio::spawn(dispatcher.run()),
        tokio::spawn(socket::serve(shell, app.clone())),
        tokio::spawn(keeping::run(
            app.porch.store.clone(),
            app.house.clock.clone(),
            config.photo_days,
        )),
    ];
    web::serve(listener, web::router(app.web(hosts)), told_to_stop()).await?;
    for task in tasks {
        task.abort();
    }
    Ok(())
}

/// Ends when the process is interrupted or terminated.
async fn told_to_stop() {
    let mut terminated = match tokio::signal::unix::signal(tokio::signal::unix::SignalKind::terminate()) {
        Ok(signal) => signal,
        Err(error) => {
            tracing::warn!(%error, "termination cannot be listened for");
            let _ = tokio::signal::ctrl_c().await;
            return;
        }
    };
    tokio::select! {
        _ = tokio::signal::ctrl_c() => {}
        _ = terminated.recv() => {}
    }
}
