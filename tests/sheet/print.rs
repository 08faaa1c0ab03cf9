//! The page in a real browser, printed: a fortnight of three enclosures on both sides of one leaf.

use super::{club, key};
use crate::porch::browser::{Browser, Driver, is_there};

/// The pages of a document as the browser writes one: each is an object of this type.
fn pages(pdf: &[u8]) -> usize {
    let text = String::from_utf8_lossy(pdf);
    text.match_indices("/Type /Page")
        .filter(|(at, found)| !text[at + found.len()..].starts_with('s'))
        .count()
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_fortnight_of_three_enclosures_prints_on_two_sides() {
    if !is_there("sheet::print::a_fortnight_of_three_enclosures_prints_on_two_sides") {
        return;
    }
    let house = club().await;
    key(&house, 1, "letters", true).await;
    let listener = tokio::net::TcpListener::bind("127.0.0.1:0")
        .await
        .expect("a port");
    let port = listener.local_addr().expect("an address").port();
    let router = wrackline::web::router(house.app.web(wrackline::web::loopback_hosts(port), None));
    let served =
        tokio::spawn(async move { wrackline::web::serve(listener, router, std::future::pending()).await });
    let driver = Driver::start();
    let browser = Browser::open(&driver).await;
    let page = browser.clone();
    let looked = tokio::spawn(async move {
        page.go(&format!("http://127.0.0.1:{port}/enter/letters")).await;
        page.go(&format!("http://127.0.0.1:{port}/sheet/2")).await;
        page.find("//h1[starts-with(., 'Handover for Sven')]").await;
        let last = page
            .ask("return document.querySelectorAll('article').length")
            .await;
        let pdf = page.print().await;
        if let Ok(folder) = std::env::var("WRACKLINE_KEEP_SHEET") {
            std::fs::write(format!("{folder}/sheet.pdf"), &pdf).expect("it is kept");
            let picture = page.picture().await;
            std::fs::write(format!("{folder}/sheet.png"), picture).expect("it is kept");
        }
        // No word is wider than its column, on paper or on a telephone.
        let wide = page
            .ask("return document.documentElement.scrollWidth > document.documentElement.clientWidth")
            .await;
        (last, pages(&pdf), wide)
    });
    let looked = looked.await;
    browser.close().await;
    served.abort();
    let (works, sides, wide) = looked.unwrap_or_else(|failed| std::panic::resume_unwind(failed.into_panic()));
    assert!(works.as_u64().is_some_and(|count| count >= 8), "{works}");
    assert!((1..=2).contains(&sides), "{sides} sides");
    assert_eq!(wide.as_bool(), Some(false), "it is wider than the screen");
}
