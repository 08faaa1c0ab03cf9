//! Open matters: they come back as turns until they are closed, and sickness is the keepers' alone.

use wrackline::chat::blocks::Answer;
use wrackline::chat::plain;

use super::{BEA, CLEO, answer, code, codes, north, posted_at, settle, verify};
use wrackline_tests::house::TestHouse;

async fn due(house: &mut TestHouse, carer: u32) -> Answer {
    answer(house, carer, "/due all").await
}

fn shown(answer: &Answer) -> String {
    plain::text(&answer.blocks)
}

#[tokio::test]
async fn a_leak_comes_back_until_it_is_closed() {
    let mut house = north().await;
    house.at("2026-03-02 09:10");
    settle(&house).await;
    let (ok, said) = house.say_as(BEA, "/saw leak north salt").await;
    assert!(ok, "{said}");
    // Electricity comes before water.
    let [mains, stop] = ["Mains beside water", "stop the water"].map(|part| said.find(part));
    assert!(mains.is_some() && mains < stop, "{said}");
    settle(&house).await;
    let listed = due(&mut house, CLEO).await;
    assert!(
        shown(&listed).contains("North salt: leak, look again · anyone · due 10:10"),
        "{}",
        shown(&listed)
    );
    assert!(!listed.private);
    let json = listed
        .turns
        .iter()
        .find(|turn| turn["duty"] == "follow-up")
        .expect("the look");
    assert_eq!(
        (&json["enclosure"], &json["sighting"]),
        (&"North".into(), &"leak".into())
    );
    assert_eq!(json["due"], "2026-03-02T10:10:00-05:00");

    let calls = posted_at(&house, "2026-03-02 10:10").await;
    let call = calls
        .iter()
        .find(|post| post.text().contains("look again"))
        .expect("a call");
    assert!(
        call.title().starts_with("Anyone: 1 turn waits, North salt: leak"),
        "{}",
        call.text()
    );
    let looked = code(&call.blocks, "looked.", "");
    house.at("2026-03-02 10:20");
    let (ok, said) = house.press(CLEO, &looked, None).await;
    assert!(
        ok && said.contains("still open") && said.contains("Look again 19:30"),
        "{said}"
    );
    settle(&house).await;
    let call = posted_at(&house, "2026-03-02 10:21").await;
    assert!(call.is_empty(), "{call:?}");

    // The evening round has it at its enclosure: after nothing of North's, before South.
    let round = posted_at(&house, "2026-03-02 19:30").await;
    let text = round[0].text();
    let at = |part: &str| text.find(part).unwrap_or_else(|| panic!("{part}: {text}"));
    assert!(at("North salt: leak, look again") < at("South"), "{text}");
    let (ok, said) = house
        .press(BEA, &code(&round[0].blocks, "close.", ""), None)
        .await;
    assert!(ok && said.contains("Bea"), "{said}");
    settle(&house).await;
    assert!(!shown(&due(&mut house, CLEO).await).contains("leak"));
    // A take-back opens it again.
    let (ok, said) = house.say_as(BEA, "/undo").await;
    assert!(ok, "{said}");
    assert!(shown(&due(&mut house, CLEO).await).contains("leak, look again"));
    verify(&house).await;
}

#[tokio::test]
async fn why_tells_how_a_look_came_about() {
    let mut house = north().await;
    house.at("2026-03-02 09:10");
    house.say("/saw escape north").await;
    let told = house.say("/why north").await;
    for part in [
        "North: escape",
        "at 21:00, when crabs walk about and at every round",
        "Look again Monday 2 March 19:30, late from Monday 2 March 21:30",
        "common practice",
    ] {
        assert!(told.contains(part), "{part}: {told}");
    }
}

#[tokio::test]
async fn wet_substrate_beside_a_moulting_crab_is_urgent() {
    let mut house = north().await;
    house
        .say("/enclosure set south quiet left back until 2026-04-02")
        .await;
    house.at("2026-03-02 09:10");
    settle(&house).await;
    for line in ["/saw wet substrate north", "/saw wet substrate south"] {
        let (ok, said) = house.say_as(BEA, line).await;
        let urgent = said.contains("cannot move away from water: do not dig");
        assert!(ok && urgent == line.ends_with("south"), "{said}");
    }
    let alarms = posted_at(&house, "2026-03-02 09:11").await;
    let of = |name: &str| {
        alarms
            .iter()
            .find(|post| post.title().contains(name))
            .expect("an alarm")
    };
    assert!(of("South").title().starts_with("Urgent, "), "{alarms:?}");
    assert!(of("South").text().contains("do not dig"), "{alarms:?}");
    assert!(!of("North").text().contains("do not dig"), "{alarms:?}");
    let call = posted_at(&house, "2026-03-02 10:10").await;
    assert!(
        call[0]
            .title()
            .starts_with("Ada: 1 turn waits, South: wet substrate"),
        "{call:?}"
    );
    // It stands before what comes sooner on the way.
    let text = shown(&due(&mut house, CLEO).await);
    let at = |part: &str| text.find(part).unwrap_or_else(|| panic!("{part}: {text}"));
    assert!(
        at("Urgent, near a quiet zone · South") < at("North: wet substrate"),
        "{text}"
    );
}

/// Each line of the porch with whom it is for.
async fn porch(house: &TestHouse) -> Vec<(Option<u32>, String)> {
    let mut rows = house
        .store
        .porch_after(house.place, 0, 1000)
        .await
        .expect("the porch");
    rows.sort_by_key(|row| row.id);
    rows.into_iter().map(|row| (row.only_for, row.body)).collect()
}

#[tokio::test]
async fn sickness_is_the_keepers_alone() {
    let mut house = north().await;
    house.at("2026-03-02 09:10");
    settle(&house).await;
    let said = answer(&mut house, BEA, "/saw trouble north note limp and pale").await;
    assert!(
        said.private && shown(&said).contains("Told to Ada in private, and to nobody else."),
        "{said:?}"
    );
    settle(&house).await;
    let lines = porch(&house).await;
    let told: Vec<_> = lines
        .iter()
        .filter(|(_, body)| body.contains("limp and pale"))
        .collect();
    assert!(matches!(told.as_slice(), [(Some(1), _)]), "{told:?}");

    // Those who may not know find nothing of it, and cannot answer it.
    for line in ["/due all", "/due", "/why north", "/week"] {
        let told = answer(&mut house, CLEO, line).await;
        let text = shown(&told);
        assert!(!text.contains("trouble") && !told.private, "{line}: {text}");
        assert!(
            !told.turns.iter().any(|turn| turn["duty"] == "follow-up"),
            "{line}"
        );
    }
    assert!(shown(&answer(&mut house, CLEO, "/week").await).contains("1 matter of the keepers alone."));
    let alarm: serde_json::Value = serde_json::from_str(&told[0].1).expect("a body");
    let blocks: Vec<wrackline::chat::blocks::Block> =
        serde_json::from_value(alarm["blocks"].clone()).expect("blocks");
    for code in codes(&blocks) {
        let (ok, said) = house.press(CLEO, &code, None).await;
        assert!(!ok && !said.contains("trouble"), "{code}: {said}");
    }
    let (ok, said) = house.say_as(CLEO, "/saw trouble north closed").await;
    assert!(!ok && said.contains("is open there"), "{said}");

    // The keeper and the one who said it do, for their own eyes.
    for carer in [1, BEA] {
        for line in ["/due all", "/why north"] {
            let told = answer(&mut house, carer, line).await;
            assert!(
                told.private && shown(&told).contains("trouble"),
                "{carer} {line}: {told:?}"
            );
        }
    }
    // Called for it, and listed again at the next round: each time to the keeper, and to nobody else.
    for round in ["2026-03-02 19:30", "2026-03-03 08:00", "2026-03-03 19:30"] {
        house.at(round);
        settle(&house).await;
    }
    let lines = porch(&house).await;
    let named: Vec<_> = lines
        .iter()
        .filter(|(_, body)| body.contains("trouble"))
        .collect();
    assert!(
        named.len() >= 4 && named.iter().all(|(only_for, _)| *only_for == Some(1)),
        "{named:?}"
    );
    assert!(
        named.iter().all(|(_, body)| !body.contains("Anyone")),
        "{named:?}"
    );
    let (ok, said) = house.press(1, &code(&blocks, "close.", ""), None).await;
    assert!(ok, "{said}");
    verify(&house).await;
}

#[tokio::test]
async fn a_hush_keeps_rounds_and_late_turns_quiet() {
    let mut house = north().await;
    house.at("2026-03-02 09:00");
    settle(&house).await;
    let (ok, said) = house.say_as(4, "/rounds hush").await;
    assert!(!ok, "{said}");
    let (ok, said) = house.say_as(BEA, "/rounds hush until today 08:00").await;
    assert!(!ok && said.contains("has passed"), "{said}");
    let (ok, said) = house.say_as(BEA, "/rounds hush off").await;
    assert!(!ok && said.contains("No hush"), "{said}");
    let (ok, said) = house.say_as(BEA, "/rounds hush").await;
    assert!(ok && said.starts_with("Hushed until the end of today"), "{said}");
    for line in ["/rounds list", "/due"] {
        let said = house.say(line).await;
        assert!(said.contains("Hushed until the end of today"), "{line}: {said}");
    }
    let posted = posted_at(&house, "2026-03-02 21:00").await;
    assert!(posted.is_empty(), "{posted:?}");
    assert!(shown(&due(&mut house, BEA).await).contains("since 08:00"));
    let (ok, said) = house.say_as(BEA, "/undo").await;
    assert!(ok && said.contains("the hush"), "{said}");
    let posted = posted_at(&house, "2026-03-02 21:01").await;
    assert!(!posted.is_empty(), "late turns are called again");
    house.say("/rounds hush until 21:30").await;
    let (ok, said) = house.say_as(BEA, "/saw leak north").await;
    assert!(ok, "{said}");
    settle(&house).await;
    let posted = posted_at(&house, "2026-03-02 21:02").await;
    assert!(posted.is_empty(), "the leak was told at once: {posted:?}");
    verify(&house).await;
}

#[tokio::test]
async fn a_leak_seen_again_is_the_same_matter() {
    let mut house = north().await;
    house.at("2026-03-02 09:10");
    settle(&house).await;
    let (ok, said) = house.say_as(BEA, "/saw leak north salt").await;
    assert!(ok && !said.contains("seen again"), "{said}");
    let alarms = posted_at(&house, "2026-03-02 09:11").await;
    assert_eq!(alarms.len(), 1, "{alarms:?}");
    house.at("2026-03-02 09:40");
    let (ok, said) = house.say_as(CLEO, "/saw leak north salt note at the back").await;
    assert!(ok, "{said}");
    let again = "Open there since 09:10, seen by Bea: this is that matter, seen again. Look again 10:40.";
    assert!(said.contains(again), "{said}");
    // Nobody is alarmed anew; the alarm that is out tells of it.
    let alarms = posted_at(&house, "2026-03-02 09:41").await;
    assert!(alarms.is_empty(), "{alarms:?}");
    let alarm = |posts: Vec<super::Posted>| {
        let of_leak = |post: &super::Posted| post.title().starts_with("Leak: ");
        posts.into_iter().find(of_leak).expect("the alarm").text()
    };
    let text = alarm(super::posts(&house).await);
    assert!(
        text.contains("Seen again 09:40 by Cleo.") && text.contains("Note: at the back"),
        "{text}"
    );
    let listed = shown(&due(&mut house, CLEO).await);
    assert_eq!(listed.matches("leak, look again").count(), 1, "{listed}");
    assert!(listed.contains("due 10:40"), "{listed}");
    let told = house.say("/why north salt").await;
    assert!(told.contains("Seen again Monday 2 March 09:40 by Cleo"), "{told}");
    // Whoever takes back the first leaves the second to itself, and it is posted as one.
    let (ok, said) = house.say_as(BEA, "/undo").await;
    assert!(ok, "{said}");
    let alarms = posted_at(&house, "2026-03-02 09:42").await;
    assert!(
        alarms.len() == 1 && alarms[0].title().contains("Seen by Cleo, 09:40"),
        "{alarms:?}"
    );
    assert!(shown(&due(&mut house, CLEO).await).contains("leak, look again"));
    verify(&house).await;
}

#[tokio::test]
async fn what_is_over_is_over_whichever_sighting_is_taken_back() {
    let mut house = north().await;
    house.at("2026-03-02 09:10");
    settle(&house).await;
    let first = super::entries(&house).await + 1;
    for who in [BEA, CLEO] {
        let (ok, said) = house.say_as(who, "/saw mould north").await;
        assert!(ok, "{said}");
    }
    let (ok, said) = house.say_as(BEA, "/saw mould north closed").await;
    assert!(ok && !said.contains("2 matters"), "{said}");
    let (ok, said) = house.say_as(1, &format!("/undo {first}")).await;
    assert!(ok, "{said}");
    let (ok, said) = house.say_as(BEA, "/saw mould north closed").await;
    assert!(!ok && said.contains("is open there"), "{said}");
    // Another crab that is out is another matter, and that is said.
    for (line, another) in [("/saw escape north", false), ("/saw escape north", true)] {
        let (ok, said) = house.say_as(BEA, line).await;
        assert!(ok && said.contains("kept as another one") == another, "{said}");
    }
    verify(&house).await;
}
