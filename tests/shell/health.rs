//! `wrackline health` beside a serve, and where there is none.

use std::io::{Read, Write};
use std::net::TcpListener;

use super::north;
use wrackline_tests::binary::{Ran, Shell};

/// Asks after the health of what listens at an address.
fn health(shell: &Shell, bind: &str) -> Ran {
    let mut command = shell.command(&["health"]);
    command.env("WRACKLINE_BIND", bind);
    command.output().expect("the program starts").into()
}

/// An address that nothing listens at.
fn nobody() -> String {
    let listener = TcpListener::bind("127.0.0.1:0").expect("a port");
    listener.local_addr().expect("its address").to_string()
}

/// The port of an address, on all addresses.
fn on_all(address: &str) -> String {
    let (_, port) = address.rsplit_once(':').expect("a port");
    format!("0.0.0.0:{port}")
}

#[test]
fn a_serve_at_work_is_ready_and_one_that_stopped_is_not() {
    let shell = north();
    let mut serve = shell.serve();
    let address = serve.address();
    assert_eq!(health(&shell, &address).done(), "ready\n");
    // What listens on all addresses is asked on this machine.
    assert_eq!(health(&shell, &on_all(&address)).done(), "ready\n");
    assert_eq!(serve.stop().0, Some(0));
    let said = health(&shell, &address).failed(1);
    assert!(said.contains(&address), "{said}");
}

#[test]
fn where_nothing_is_it_is_not_ready() {
    let shell = Shell::new();
    let address = nobody();
    let said = health(&shell, &address).failed(1);
    assert!(
        said.starts_with("No serve answers") && said.contains(&address),
        "{said}"
    );
    let said = health(&shell, "127.0.0.1:0").failed(2);
    assert!(said.contains("WRACKLINE_BIND") && said.contains("port"), "{said}");
    assert!(
        !shell.folder().join("data").exists(),
        "asking leaves nothing behind"
    );
}

#[test]
fn another_answer_than_ready_is_passed_on() {
    let shell = Shell::new();
    for (reply, words) in [
        (
            Some("HTTP/1.1 503 Service Unavailable\r\n\r\nthe store does not answer"),
            "not ready (503): the store does not answer.",
        ),
        (Some("SSH-2.0-other\r\n"), "is no serve"),
        // It takes the connection and stays silent.
        (None, "within 3 s"),
    ] {
        let listener = TcpListener::bind("127.0.0.1:0").expect("a port");
        let address = listener.local_addr().expect("its address").to_string();
        let answering = std::thread::spawn(move || {
            let (mut stream, _) = listener.accept().expect("a connection");
            let mut asked = [0; 1024];
            let read = stream.read(&mut asked).expect("a request");
            match reply {
                Some(reply) => stream.write_all(reply.as_bytes()).expect("a reply"),
                // Until the other side has given up.
                None => drop(stream.read(&mut [0; 1]).expect("an end")),
            }
            String::from_utf8_lossy(&asked[..read]).into_owned()
        });
        let said = health(&shell, &address).failed(1);
        assert!(said.contains(words), "{said}");
        let asked = answering.join().expect("it answers");
        assert!(asked.starts_with("GET /readyz HTTP/1.1\r\n"), "{asked}");
    }
}
