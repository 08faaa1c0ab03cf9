//! `wrackline health`: whether the serve at the address of the settings is ready, for whatever watches over it.

use std::net::{IpAddr, Ipv4Addr, Ipv6Addr, SocketAddr};
use std::time::Duration;

use tokio::io::{AsyncReadExt, AsyncWriteExt};
use tokio::net::TcpStream;

use super::{Failure, Outcome, one_line, print};
use crate::config::Config;

/// How long connecting, asking and reading may take together.
const WITHIN: Duration = Duration::from_secs(3);

/// The longest reply that is read, in bytes; what stands behind it is of no use here.
const REPLY_BYTES_MAX: u64 = 16 * 1024;

/// The longest reason that is passed on, in characters.
const REASON_MAX: usize = 120;

/// Asks once and prints that it is ready.
///
/// # Errors
/// Refused when nothing answers in time or the answer is another one; broken when the settings name no port.
pub(super) async fn run(config: &Config) -> Outcome {
    let Some(address) = reachable(config.bind) else {
        return Err(Failure::Broken(format!(
            "{} (WRACKLINE_BIND) names no port that could be asked: name one from 1 to 65535.",
            config.bind
        )));
    };
    let reply = match tokio::time::timeout(WITHIN, ask(address)).await {
        Ok(Ok(reply)) => reply,
        Ok(Err(error)) => {
            return Err(Failure::Refused(format!(
                "No serve answers at {address}: {error}."
            )));
        }
        Err(_) => {
            return Err(Failure::Refused(format!(
                "No serve answers at {address} within {} s.",
                WITHIN.as_secs()
            )));
        }
    };
    match understood(&reply) {
        Some((200, _)) => {
            print("ready");
            Ok(())
        }
        Some((status, reason)) => Err(Failure::Refused(format!(
            "The serve at {address} is not ready ({status}): {}.",
            if reason.is_empty() {
                "it says nothing more"
            } else {
                &reason
            }
        ))),
        None => Err(Failure::Refused(format!(
            "What answers at {address} is no serve: name the porch's address in WRACKLINE_BIND."
        ))),
    }
}

/// Where a listener is asked: one that listens on all addresses, on loopback. `None` when the port is any.
fn reachable(bind: SocketAddr) -> Option<SocketAddr> {
    let address = match bind.ip() {
        IpAddr::V4(all) if all.is_unspecified() => Ipv4Addr::LOCALHOST.into(),
        IpAddr::V6(all) if all.is_unspecified() => Ipv6Addr::LOCALHOST.into(),
        one => one,
    };
    (bind.port() != 0).then(|| SocketAddr::new(address, bind.port()))
}

/// One request, and the beginning of its reply.
async fn ask(address: SocketAddr) -> std::io::Result<Vec<u8>> {
    let mut stream = TcpStream::connect(address).await?;
    // The name is one that the porch knows, whichever address it listens on.
    let request = format!(
        "GET /readyz HTTP/1.1\r\nHost: localhost:{}\r\nConnection: close\r\n\r\n",
        address.port()
    );
    stream.write_all(request.as_bytes()).await?;
    let mut reply = Vec::new();
    stream.take(REPLY_BYTES_MAX).read_to_end(&mut reply).await?;
    Ok(reply)
}

/// The status of a reply, and the reason that its body gives, in one line without its full stop.
fn understood(reply: &[u8]) -> Option<(u16, String)> {
    let reply = String::from_utf8_lossy(reply);
    let (head, body) = reply.split_once("\r\n\r\n")?;
    let mut words = head.lines().next()?.split(' ');
    if !words.next()?.starts_with("HTTP/1.") {
        return None;
    }
    let status = words
        .next()
        .filter(|code| code.len() == 3 && code.bytes().all(|byte| byte.is_ascii_digit()))?;
    let reason: String = one_line(body).chars().take(REASON_MAX).collect();
    Some((status.parse().ok()?, reason.trim_end_matches('.').to_owned()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_listener_on_all_addresses_is_asked_on_loopback() {
        for (bind, asked) in [
            ("0.0.0.0:8765", Some("127.0.0.1:8765")),
            ("[::]:8765", Some("[::1]:8765")),
            ("192.0.2.7:80", Some("192.0.2.7:80")),
            ("127.0.0.1:0", None),
        ] {
            let bind = bind.parse().expect("an address");
            assert_eq!(
                reachable(bind),
                asked.map(|asked| asked.parse().expect("an address"))
            );
        }
    }

    #[test]
    fn a_reply_is_read_by_its_status_and_its_reason() {
        let read = |text: &str| understood(text.as_bytes());
        assert_eq!(
            read("HTTP/1.1 200 OK\r\ncontent-length: 5\r\n\r\nready"),
            Some((200, "ready".to_owned()))
        );
        assert_eq!(
            read("HTTP/1.1 503 Service Unavailable\r\n\r\nthe store\r\ndoes not answer.\n"),
            Some((503, "the store does not answer".to_owned()))
        );
        let long = format!("HTTP/1.0 500 x\r\n\r\n{}", "é".repeat(1000));
        assert_eq!(
            read(&long).map(|(_, reason)| reason.chars().count()),
            Some(REASON_MAX)
        );
        for text in [
            "",
            "SSH-2.0-x\r\n\r\n",
            "HTTP/1.1 200 OK\r\n",
            "HTTP/1.1 +20 OK\r\n\r\n",
            "HTTP/1.1 2000 OK\r\n\r\n",
            "HTTP/1.1\r\n\r\n",
        ] {
            assert_eq!(read(text), None, "{text:?}");
        }
    }
}
