//! The page in a real browser, printed: a fortnight of seven enclosures on both sides of one leaf.

use wrackline_tests::served::serve;

use super::{club, key};
use crate::porch::browser::{Browser, Driver, is_there};

/// Enclosures beside the club's three.
const MORE: [&str; 12] = [
    "/enclosure add Spit 200 L room Hall crabs 4 smallest 2 cm largest 4 cm",
    "/pool add spit fresh 4 L nested",
    "/pool add spit salt 5 L nested",
    "/enclosure add Shoal 260 L room Attic crabs 5 smallest 2 cm largest 5 cm",
    "/pool add shoal fresh 6 L",
    "/pool add shoal salt 6 L",
    "/enclosure add Bank 180 L room Attic crabs 2 smallest 2 cm largest 5 cm",
    "/pool add bank fresh 3 L",
    "/pool add bank salt 3.5 L",
    "/enclosure add Ledge 90 L room Attic crabs 1 smallest 2 cm largest 3 cm",
    "/pool add ledge fresh 1.5 L",
    "/pool add ledge salt 1.6 L",
];

/// The pages of a document as the browser writes one: each is an object of this type.
fn pages(pdf: &[u8]) -> usize {
    let text = String::from_utf8_lossy(pdf);
    text.match_indices("/Type /Page")
        .filter(|(at, found)| !text[at + found.len()..].starts_with('s'))
        .count()
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_fortnight_of_seven_enclosures_prints_on_two_sides() {
    if !is_there("sheet::print::a_fortnight_of_seven_enclosures_prints_on_two_sides") {
        return;
    }
    let mut house = club().await;
    for line in MORE {
        house.say(line).await;
    }
    key(&house, 1, "letters", true).await;
    let served = serve(&house).await;
    let port = served.port;
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
    let (works, sides, wide) = looked.unwrap_or_else(|failed| std::panic::resume_unwind(failed.into_panic()));
    assert!(works.as_u64().is_some_and(|count| count >= 8), "{works}");
    assert!((1..=2).contains(&sides), "{sides} sides");
    assert_eq!(wide.as_bool(), Some(false), "it is wider than the screen");
}
