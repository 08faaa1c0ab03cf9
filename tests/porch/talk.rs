//! The line at the foot: completing, being refused, losing the connection, showing a photo.

use super::{Two, answer};

const LINE: &str = "//input[@id='line']";
const ENTER: &str = "\u{e007}";
const DOWN: &str = "\u{e015}";

/// What was typed, as the transcript shows it.
fn said(text: &str) -> String {
    format!("//li[contains(@class, 'line said')][contains(., '{text}')]")
}

/// Arrows and Enter take what is offered word by word; Enter alone says the line.
pub(super) async fn a_line_is_completed_and_heard(two: &Two) {
    let Two { ada, bea, .. } = two;
    ada.keys(LINE, "/did top").await;
    for (offered, taken) in [
        ("/did top up", "/did top up "),
        ("/did top up North fresh", "/did top up North fresh "),
    ] {
        ada.find(&format!("//ul[@id='ways']/li[1]/span[.='{offered}']"))
            .await;
        ada.keys(LINE, DOWN).await;
        ada.until("document.querySelector('#way-0').getAttribute('aria-selected') === 'true'")
            .await;
        ada.keys(LINE, ENTER).await;
        assert_eq!(
            ada.ask("return document.getElementById('line').value").await,
            taken
        );
    }
    ada.keys(LINE, ENTER).await;
    for page in [ada, bea] {
        page.find(&said("/did top up North fresh")).await;
        page.find(&answer("North fresh topped up, 08:00, by Ada.")).await;
    }
    assert_eq!(ada.ask("return document.getElementById('line').value").await, "");
    // The line said before comes back by the arrow.
    ada.keys(LINE, "\u{e013}").await;
    assert_eq!(
        ada.ask("return document.getElementById('line').value").await,
        "/did top up North fresh"
    );
    ada.ask("document.getElementById('line').value = ''").await;
}

/// A refusal says so in words, to the one who is refused alone; set-up lines are the keeper's.
pub(super) async fn refusals_are_marked_in_words(two: &Two) {
    let Two { porch, ada, bea } = two;
    let before = porch.head().await;
    bea.keys(LINE, &format!("/read north 140%{ENTER}")).await;
    let refused = answer("140 % is not a relative humidity; it runs from 0 to 100. Nothing was saved.");
    bea.find(&format!("{refused}/p[@class='refused'][.='Not done']"))
        .await;
    bea.keys(LINE, &format!("/rounds add noon 12:00{ENTER}")).await;
    let refused = answer("Only a keeper sets things up: ask Ada.");
    bea.find(&format!("{refused}/p[@class='refused'][.='Not done']"))
        .await;
    assert_eq!(porch.head().await, before, "a refusal wrote something");
    // What comes after is there: the refusals, had they been meant for Ada, would be too.
    bea.keys(LINE, &format!("/did look north note seen{ENTER}")).await;
    ada.find(&said("/did look north note seen")).await;
    for private in [
        answer("140 %"),
        answer("Only a keeper"),
        said("140%"),
        said("noon"),
    ] {
        assert_eq!(ada.count(&private).await, 0, "{private}: {}", ada.text().await);
    }
}

/// Markup and calls to everyone stay the letters that were typed, on every page.
pub(super) async fn what_is_typed_is_only_ever_text(two: &Two) {
    let Two { ada, bea, .. } = two;
    let typed = "/saw mould north note <b>x</b> @everyone <img src=x onerror=document.title=1>";
    ada.keys(LINE, &format!("{typed}{ENTER}")).await;
    ada.keys(LINE, &format!("<b>x</b> @everyone{ENTER}")).await;
    ada.find(&answer("<b>x</b>")).await;
    for page in [ada, bea] {
        page.find(&said(typed)).await;
        let made = "return document.querySelectorAll('#log .said b, #log .answer b, #log img').length";
        assert_eq!(page.ask(made).await, 0, "typed text became markup");
        assert_eq!(page.ask("return document.title").await, "Wrackline");
    }
}

/// What the keeper saw of a sick crab, and the post to her, stand on her page alone.
pub(super) async fn sickness_is_shown_to_the_keeper_alone(two: &Two) {
    let Two { ada, bea, .. } = two;
    ada.keys(LINE, &format!("/saw trouble north note limp and pale{ENTER}"))
        .await;
    let post = "//li[contains(@class, 'line post')][contains(., 'limp and pale')]";
    ada.find(post).await;
    // What comes after is there: had it been meant for Bea, the rest would be too.
    ada.keys(LINE, &format!("/did look north note limping{ENTER}"))
        .await;
    bea.find(&said("note limping")).await;
    for private in [post, &said("trouble"), &answer("in trouble")] {
        assert_eq!(bea.count(private).await, 0, "{private}: {}", bea.text().await);
    }
    ada.keys(LINE, &format!("/saw trouble north closed{ENTER}")).await;
    ada.find(&answer("over, says Ada")).await;
}

/// The reply to a line is lost on the way: the page says so, and the same line sent again is counted once.
pub(super) async fn a_line_whose_reply_was_lost_shows_once(two: &Two) {
    let Two { porch, ada, bea } = two;
    let before = porch.head().await;
    let lose = "const real = window.fetch; window.posted = []; window.fetch = async (...call) => { \
                const reply = await real(...call); if (call[0] !== '/say') return reply; \
                window.posted.push(JSON.parse(call[1].body).id); \
                if (window.posted.length === 1) throw new TypeError('lost'); return reply; };";
    ada.ask(lose).await;
    ada.keys(LINE, &format!("/read north 81% 26C{ENTER}")).await;
    ada.find("//li[@class='unsent'][contains(., 'Not sent yet. It is tried again by itself.')]")
        .await;
    ada.click("//li[@class='unsent']//button[.='Try now']").await;
    ada.until("!document.querySelector('.unsent')").await;
    assert_eq!(ada.ask("return window.posted.length").await, 2, "sent twice");
    assert_eq!(
        ada.ask("return window.posted[0] === window.posted[1]").await,
        true,
        "under one id"
    );
    for page in [ada, bea] {
        page.find(&answer("North: 81 %, 26 °C, 08:00.")).await;
        assert_eq!(
            page.count(&said("/read north 81% 26C")).await,
            1,
            "{}",
            page.text().await
        );
        assert_eq!(
            page.count(&answer("North: 81 %")).await,
            1,
            "{}",
            page.text().await
        );
    }
    assert_eq!(porch.head().await, before + 2, "two readings, each once");
}

/// A picture of one point, as small as a PNG can be.
const POINT: &[u8] =
    b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\0\0\0\x01\0\0\0\x01\x08\x06\0\0\0\x1f\x15\xc4\x89\0\0\0\x0bIDAT\
x\x9cc\xf8\x0f\x04\0\t\xfb\x03\xfd\xfb^k+\0\0\0\0IEND\xaeB`\x82";

/// A photo whose days are over leaves a sentence in its place, and its answer stands.
pub(super) async fn a_photo_that_is_gone_leaves_a_sentence(two: &Two) {
    let Two { porch, bea, .. } = two;
    let gone = porch.house.store.forget_photos(i64::MAX).await;
    assert_eq!(gone.expect("the store"), 1);
    bea.go(&porch.url("/")).await;
    bea.find(&format!(
        "{}/p[@class='gone'][.='The photo that came with this entry is no longer kept.']",
        answer("North fresh changed, 08:00, by Ada.")
    ))
    .await;
    assert_eq!(bea.count("//img[@class='photo']").await, 0);
}

/// A photo that goes with a line is seen by everyone beside what it shows.
pub(super) async fn a_photo_goes_with_what_was_done(two: &Two) {
    let Two { ada, bea, .. } = two;
    let folder = tempfile::tempdir().expect("a folder");
    let file = folder.path().join("point.png");
    std::fs::write(&file, POINT).expect("the picture is written");
    ada.keys("//input[@id='file']", file.to_str().expect("a path"))
        .await;
    ada.find("//p[@id='kept'][not(@hidden)][contains(., 'point.png')]")
        .await;
    ada.keys(LINE, &format!("/did change north fresh{ENTER}")).await;
    for page in [ada, bea] {
        page.find(&format!(
            "{}/img[@class='photo'][@alt]",
            answer("North fresh changed, 08:00, by Ada.")
        ))
        .await;
        page.until("document.querySelector('img.photo')?.naturalWidth === 1")
            .await;
    }
    ada.until("document.getElementById('kept').hidden").await;
}
