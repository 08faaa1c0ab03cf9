//! A round call on the page: posted, answered turn by turn, and edited where it stands.

use super::{POST, Two, answer, button, turn};

/// `Did it` brings a receipt, and the call changes where it stands, for everyone who looks.
pub(super) async fn is_called_and_answered(two: &Two) {
    let Two { porch, ada, bea } = two;
    for page in [ada, bea] {
        page.find(&format!(
            "{POST}//h3[.='Morning round, Monday 2 March · 4 turns']"
        ))
        .await;
        page.find(&format!(
            "{}//span[@class='mark due'][contains(., 'due')]",
            turn("North salt: top-up")
        ))
        .await;
        assert_eq!(page.count(POST).await, 1, "{}", page.text().await);
    }
    let wide = "return document.documentElement.scrollWidth - innerWidth";
    assert_eq!(ada.ask(wide).await, 0, "the page cannot be moved sideways");
    let before = porch.head().await;
    ada.click(&button(&turn("North salt: top-up"), "Did it")).await;
    for page in [ada, bea] {
        page.find(&answer(
            "North salt topped up, 08:00, by Ada. Next: Tuesday 3 March, morning.",
        ))
        .await;
        let settled = format!("{}[contains(., 'done 08:00, Ada')]", turn("North salt: top-up"));
        page.find(&format!("{settled}/span[.='settled']")).await;
        page.find(&format!(
            "{POST}//h3[.='Morning round, Monday 2 March · 3 turns']"
        ))
        .await;
        assert_eq!(
            page.count(&format!("{settled}//button")).await,
            0,
            "a settled turn has no answers"
        );
        assert_eq!(page.count(POST).await, 1, "{}", page.text().await);
    }
    assert_eq!(porch.head().await, before + 1, "one press is one entry");
}

/// `Not needed` asks for the reason beside the turn, and can be left again.
pub(super) async fn not_needed_asks_for_a_reason(two: &Two) {
    let Two { porch, ada, bea } = two;
    let (before, reading) = (porch.head().await, turn("North: reading"));
    bea.click(&button(&reading, "Not needed")).await;
    bea.find(&format!("{reading}//form[contains(., 'Why is it not needed?')]"))
        .await;
    bea.until("document.activeElement.matches('.ask input')").await;
    bea.click(&button(&reading, "Leave it")).await;
    bea.until("!document.querySelector('.ask')").await;
    assert_eq!(porch.head().await, before, "what was left wrote nothing");
    bea.click(&button(&reading, "Not needed")).await;
    // What someone else does meanwhile leaves the field and what is in it alone.
    bea.keys(&format!("{reading}//input"), "a probe ").await;
    ada.click(&button(&turn("North: morning look"), "Did it")).await;
    bea.find(&answer("North looked at, 08:00, by Ada.")).await;
    bea.find(&format!("{POST}//h3[contains(., '2 turns')]")).await;
    bea.until("document.activeElement.matches('.ask input')").await;
    bea.keys(&format!("{reading}//input"), "reads it\u{e007}").await;
    for page in [ada, bea] {
        page.find(&answer("North: reading · not needed: a probe reads it."))
            .await;
        page.find(&format!(
            "{reading}[contains(., 'not needed, Bea 08:00')]/span[.='settled']"
        ))
        .await;
    }
    assert_eq!(porch.head().await, before + 2, "one look and one reason");
}
