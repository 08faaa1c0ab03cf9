//! The porch as people use it: two carers, each with a browser of their own, over a house at work.

pub(crate) mod browser;
mod door;
mod house;
mod round;
mod talk;

use browser::{Browser, Driver, is_there};
use house::PorchHouse;

/// Two carers at one porch.
struct Two {
    porch: PorchHouse,
    /// The keeper's page.
    ada: Browser,
    /// A regular carer's page.
    bea: Browser,
}

/// The round call.
const POST: &str = "//li[contains(@class, 'line post')][contains(h3, 'Morning round')]";

/// An answer that says something.
fn answer(text: &str) -> String {
    format!("//li[contains(@class, 'line answer')][contains(., '{text}')]")
}

/// A turn of the round call by its name.
fn turn(name: &str) -> String {
    format!("{POST}//ul[@class='items']/li[contains(., '{name}')]")
}

/// A button by its label, beneath something.
fn button(within: &str, label: &str) -> String {
    format!("{within}//button[normalize-space()=\"{label}\"]")
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn two_carers_share_a_porch() {
    if !is_there("porch::two_carers_share_a_porch") {
        return;
    }
    let porch = PorchHouse::open().await;
    porch.at("2026-03-02 08:00");
    let driver = Driver::start();
    let (ada, bea) = tokio::join!(Browser::open(&driver), Browser::open(&driver));
    let two = Two {
        porch,
        ada: ada.clone(),
        bea: bea.clone(),
    };
    // In a task of its own, so that the browsers are closed however it ends.
    let used = tokio::spawn(async move {
        sign_in(&two).await;
        round::is_called_and_answered(&two).await;
        round::not_needed_asks_for_a_reason(&two).await;
        talk::a_line_is_completed_and_heard(&two).await;
        talk::refusals_are_marked_in_words(&two).await;
        talk::what_is_typed_is_only_ever_text(&two).await;
        talk::sickness_is_shown_to_the_keeper_alone(&two).await;
        talk::a_line_whose_reply_was_lost_shows_once(&two).await;
        talk::a_photo_goes_with_what_was_done(&two).await;
        talk::a_photo_that_is_gone_leaves_a_sentence(&two).await;
    });
    let used = used.await;
    tokio::join!(ada.close(), bea.close());
    if let Err(failed) = used {
        std::panic::resume_unwind(failed.into_panic());
    }
}

/// Both enter by their links; a stranger, and a link that was used, stay before the porch.
async fn sign_in(two: &Two) {
    let Two { porch, ada, bea } = two;
    ada.go(&porch.url("/")).await;
    ada.find("//h1[.='You are standing before the porch']").await;
    let link = porch.link("Ada");
    bea.go(&porch.url("/")).await;
    ada.go(&link).await;
    ada.until("document.getElementById('me')?.textContent === 'Ada, keeper'")
        .await;
    bea.go(&link).await;
    bea.find("//h1[.='This link does not open the porch']").await;
    bea.go(&porch.link("Bea")).await;
    bea.until("document.getElementById('me')?.textContent === 'Bea, regular'")
        .await;
    for page in [ada, bea] {
        assert_eq!(
            page.ask("return location.pathname").await,
            "/",
            "the link stays out of sight"
        );
        assert_eq!(
            page.ask("return document.cookie").await,
            "",
            "no script sees the session's key"
        );
    }
}
