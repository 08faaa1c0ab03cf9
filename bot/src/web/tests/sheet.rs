//! The page of a handover sheet: whatever it tells is text, and who may not read it is told so.

use super::Porch;

#[tokio::test]
async fn all_that_a_sheet_tells_is_only_ever_text() {
    let porch = Porch::open().await;
    let page = porch.get("/sheet/1?from=2026-03-02", "key-1-1").await;
    assert_eq!(page.status, 200);
    assert!(
        page.header("content-type")
            .is_some_and(|kind| kind.starts_with("text/html"))
    );
    assert!(
        page.body
            .contains("<h1>Place 1: Some(&quot;2026-03-02&quot;) to None</h1>"),
        "{}",
        page.body
    );
    assert!(!page.body.contains("<script"), "{}", page.body);
    // The lead, and of two parts each: heading, title, text, caution, item, one head and two cells.
    let text = "&lt;script&gt;alert(&#39;shell&#39;)&lt;/script&gt; &amp; &quot;sand&quot;";
    assert_eq!(page.body.matches(text).count(), 1 + 2 * 8, "{}", page.body);
    assert!(page.body.contains("href=\"/sheet.css\""));
    assert_eq!(porch.get("/sheet.css", "").await.status, 200);
}

#[tokio::test]
async fn who_may_not_read_a_sheet_is_told_so_and_a_stranger_is_not_let_in() {
    let porch = Porch::open().await;
    let page = porch.get("/sheet/2", "key-1-1").await;
    assert_eq!(page.status, 404);
    assert!(
        page.body
            .contains("<h1>&lt;b&gt;Not yours&lt;/b&gt;, carer 1.</h1>"),
        "{}",
        page.body
    );
    assert_eq!(porch.get("/sheet/1", "").await.status, 401);
    assert_eq!(porch.get("/sheet/one", "key-1-1").await.status, 400);
}
