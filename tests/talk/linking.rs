//! A server of the group's chat is linked to a place, and its members to carers.

use wrackline::chat::blocks::{Answer, Block};
use wrackline::chat::plain;
use wrackline::commands::verify;
use wrackline::house::LinkRequest;
use wrackline::store::ServerRow;
use wrackline_core::place::Role;
use wrackline_tests::house::TestHouse;

use super::{BEA, CLEO, DOT, north};

const SERVER: i64 = 9_001;
const CHANNEL: i64 = 70;
const MAYA: i64 = 500;

/// What a member who may manage the server says.
fn request(id: &str) -> LinkRequest {
    LinkRequest {
        server: SERVER,
        channel: CHANNEL,
        account: MAYA,
        name: "Maya Example".to_owned(),
        manages: true,
        id: id.to_owned(),
        zone: None,
        code: None,
    }
}

async fn link(house: &TestHouse, request: LinkRequest) -> (bool, String) {
    let answer = house.app.house.link(request).await;
    assert_eq!(answer.private, !answer.ok, "{answer:?}");
    (answer.ok, plain::text(&answer.blocks))
}

#[track_caller]
fn holds(text: &str, parts: &[&str]) {
    for part in parts {
        assert!(text.contains(part), "{part:?} is not in:\n{text}");
    }
}

async fn home(house: &TestHouse, place: i64) -> Option<(i64, i64)> {
    let row = house.store.server_of(place).await.expect("the store");
    row.map(|ServerRow { server, channel }| (server, channel))
}

/// The code that a keeper is given.
async fn code(house: &mut TestHouse) -> String {
    let answer = super::answer(house, 1, "/place link").await;
    assert!(answer.ok && answer.private, "{answer:?}");
    let Some(Block::Title { text }) = answer.blocks.first() else {
        panic!("{answer:?}");
    };
    let code = text
        .split([' ', '.'])
        .nth(1)
        .expect("a code behind its word")
        .to_owned();
    assert!(code.len() == 11 && code.contains('-'), "{text}");
    holds(
        &plain::text(&answer.blocks),
        &["15 min", &format!("/place link CHANNEL code {code}")],
    );
    code
}

fn with_code(id: &str, code: &str) -> LinkRequest {
    LinkRequest {
        code: Some(code.to_owned()),
        ..request(id)
    }
}

#[tokio::test]
async fn a_server_without_place_gets_one() {
    let house = TestHouse::new("UTC").await;
    assert_eq!(
        plain::text(&house.app.house.unlinked().blocks),
        "This server is not linked to a place yet; a member who may manage it says /place link."
    );
    let (ok, said) = link(&house, request("one")).await;
    assert!(ok, "{said}");
    holds(
        &said,
        &[
            "This place is linked to this server",
            "Keepers: Maya Example.",
            "Maya Example may now log from the group's chat.",
            "/place set zone",
            "/enclosure add",
            "/carer add @member",
        ],
    );
    let place = house
        .store
        .place_of_server(SERVER)
        .await
        .expect("the store")
        .expect("a place");
    assert_ne!(place, house.place);
    assert_eq!(home(&house, place).await, Some((SERVER, CHANNEL)));
    assert_eq!(house.store.carer_of(place, MAYA).await.expect("the store"), Some(1));
    assert_eq!(house.app.house.keeper_accounts(place).await, [(1, MAYA)]);
    // The same request again gets the first answer, whoever may what by now.
    let again = LinkRequest {
        channel: 99,
        manages: false,
        ..request("one")
    };
    let first = house.app.house.link(again).await;
    assert_eq!(plain::text(&first.blocks), said);
    assert_eq!(home(&house, place).await, Some((SERVER, CHANNEL)));
    // The keeper can go on there.
    let me = house.app.house.me(place, 1).await.expect("a keeper");
    assert_eq!((me.role.as_str(), me.zone.as_str()), ("keeper", "Etc/UTC"));
    let mut there = house;
    there.place = place;
    there.say("/enclosure add North 400 L").await;
    there.say("/pool add north salt 8 L").await;
    there.say("/did change north salt yesterday 21:00").await;
    assert_eq!(verify::differences(&there.store, place).await, 0);
}

#[tokio::test]
async fn a_place_that_is_made_may_have_its_zone() {
    let house = TestHouse::new("UTC").await;
    let zoned = |zone: &str| LinkRequest {
        zone: Some(zone.to_owned()),
        ..request(zone)
    };
    let (ok, said) = link(&house, zoned("berlin")).await;
    assert!(!ok);
    assert_eq!(said, "There is no time zone “berlin”. Nearest: Europe/Berlin.");
    assert_eq!(house.store.place_of_server(SERVER).await.expect("the store"), None);
    let (ok, said) = link(&house, zoned("europe/berlin")).await;
    assert!(ok && said.contains("Zone: Europe/Berlin") && !said.contains("/place set zone"), "{said}");
    let (ok, said) = link(&house, zoned("America/New_York")).await;
    assert!(ok && said.contains("Zone: America/New_York"), "{said}");
    assert_eq!(house.store.places().await.expect("the store").len(), 2);
}

#[tokio::test]
async fn two_at_once_make_one_place() {
    let house = TestHouse::new("UTC").await;
    for (server, ids, accounts) in [(1, ["a", "a"], [MAYA, MAYA]), (2, ["a", "b"], [MAYA, 501])] {
        let ask = |at: usize| LinkRequest {
            server,
            account: accounts[at],
            ..request(ids[at])
        };
        let (one, other) = tokio::join!(house.app.house.link(ask(0)), house.app.house.link(ask(1)));
        assert!(one.ok && other.ok, "{one:?} {other:?}");
        let place = house.store.place_of_server(server).await.expect("the store").expect("a place");
        let keepers = house.app.house.keeper_accounts(place).await;
        if ids[0] == ids[1] {
            assert_eq!(one, other);
            assert_eq!(keepers, [(1, MAYA)]);
        } else {
            let mut accounts: Vec<i64> = keepers.iter().map(|(_, account)| *account).collect();
            accounts.sort_unstable();
            assert_eq!(accounts, [MAYA, 501]);
        }
    }
    assert_eq!(house.store.places().await.expect("the store").len(), 3);
}

#[tokio::test]
async fn who_manages_the_server_may_move_its_channel_and_becomes_keeper() {
    let house = TestHouse::new("UTC").await;
    link(&house, request("one")).await;
    let place = house.store.place_of_server(SERVER).await.expect("the store").expect("a place");
    let (ok, said) = link(
        &house,
        LinkRequest {
            manages: false,
            ..request("two")
        },
    )
    .await;
    assert!(!ok);
    assert_eq!(said, "Only a member who may manage the server can link it.");
    let moved = LinkRequest {
        channel: 71,
        ..request("three")
    };
    let (ok, said) = link(&house, moved).await;
    assert!(ok && said.contains("Keepers: Maya Example."), "{said}");
    assert_eq!(home(&house, place).await, Some((SERVER, 71)));
    let other = LinkRequest {
        channel: 72,
        account: 501,
        name: "@maya example".to_owned(),
        ..request("four")
    };
    let (ok, said) = link(&house, other).await;
    assert!(ok, "{said}");
    holds(
        &said,
        &["Keepers: Maya Example and maya example 2.", "maya example 2 may now log"],
    );
    assert_eq!(house.app.house.keeper_accounts(place).await, [(1, MAYA), (2, 501)]);
    assert_eq!(home(&house, place).await, Some((SERVER, 72)));
    let stranger = house.app.house.stranger(place).await;
    assert!(stranger.private && !stranger.ok);
    assert_eq!(
        plain::text(&stranger.blocks),
        "You do not share the work of this place yet; Maya Example and maya example 2 can add you with /carer add."
    );
}

#[tokio::test]
async fn a_place_moves_in_by_a_code() {
    let mut house = north().await;
    let code = code(&mut house).await;
    let typed = code.to_lowercase().replace('-', " ");
    let (ok, said) = link(&house, with_code("one", &typed)).await;
    assert!(ok, "{said}");
    holds(
        &said,
        &["Keepers: Ada.", "Ada may now log from the group's chat.", "/carer add @member"],
    );
    assert!(!said.contains("/enclosure add"), "{said}");
    assert_eq!(home(&house, house.place).await, Some((SERVER, CHANNEL)));
    assert_eq!(house.app.house.keeper_accounts(house.place).await, [(1, MAYA)]);
    assert_eq!(house.store.places().await.expect("the store").len(), 1);
    // Once: the same request gets its answer, another one is refused.
    let (ok, again) = link(&house, with_code("one", &typed)).await;
    assert!(ok && again == said);
    let elsewhere = LinkRequest {
        server: 9_002,
        account: 501,
        ..with_code("two", &code)
    };
    let (ok, said) = link(&house, elsewhere).await;
    assert!(!ok && said.starts_with("That code is wrong, used or too old"), "{said}");
    assert_eq!(home(&house, house.place).await, Some((SERVER, CHANNEL)));
    assert_eq!(house.app.house.keeper_accounts(house.place).await, [(1, MAYA)]);
    assert_eq!(verify::differences(&house.store, house.place).await, 0);
}

#[tokio::test]
async fn a_code_that_is_wrong_or_late_changes_nothing() {
    let mut house = north().await;
    let code = code(&mut house).await;
    for wrong in ["", "AAAAA-AAAAA", &code[1..]] {
        let (ok, said) = link(&house, with_code(wrong, wrong)).await;
        assert!(!ok && said.starts_with("That code is wrong"), "{wrong}: {said}");
    }
    house.at("2026-03-01 12:16");
    let (ok, said) = link(&house, with_code("late", &code)).await;
    assert!(!ok && said.starts_with("That code is wrong"), "{said}");
    assert_eq!(home(&house, house.place).await, None);
    assert_eq!(house.store.place_of_server(SERVER).await.expect("the store"), None);
    assert_eq!(house.store.accounts(house.place).await.expect("the store"), []);
}

#[tokio::test]
async fn a_link_that_is_refused_leaves_the_code_good() {
    let mut house = north().await;
    let code = code(&mut house).await;
    // The server is another place's.
    let taken = LinkRequest {
        server: 9_002,
        ..request("taken")
    };
    assert!(link(&house, taken).await.0);
    let there = LinkRequest {
        server: 9_002,
        ..with_code("there", &code)
    };
    let (ok, said) = link(&house, there).await;
    assert!(!ok);
    assert_eq!(said, "This server is another place's already. Nothing was changed.");
    // The account is another carer's.
    house.say("/carer set Bea member <@500>").await;
    let (ok, said) = link(&house, with_code("bea", &code)).await;
    assert!(!ok);
    assert_eq!(said, "That account is Bea's already; each carer has their own.");
    let not = LinkRequest {
        manages: false,
        account: 501,
        ..with_code("not", &code)
    };
    assert!(!link(&house, not).await.0);
    assert_eq!(home(&house, house.place).await, None);
    let mine = LinkRequest {
        account: 501,
        ..with_code("mine", &code)
    };
    let (ok, said) = link(&house, mine).await;
    assert!(ok, "{said}");
    assert_eq!(house.app.house.keeper_accounts(house.place).await, [(1, 501)]);
}

#[tokio::test]
async fn a_code_ends_with_its_keeper() {
    let mut house = north().await;
    let code = code(&mut house).await;
    house.say("/carer set Bea role keeper").await;
    let (ok, said) = house.say_as(BEA, "/carer set Ada role regular").await;
    assert!(ok, "{said}");
    let (ok, said) = link(&house, with_code("one", &code)).await;
    assert!(!ok && said.starts_with("That code is wrong"), "{said}");
    assert_eq!(home(&house, house.place).await, None);
}

#[tokio::test]
async fn a_code_does_not_open_the_porch() {
    let mut house = north().await;
    let code = code(&mut house).await.replace('-', "");
    let now = house.app.house.clock.now().as_millisecond();
    for text in [code.clone(), format!("link:{code}"), format!("link-look:{code}")] {
        use sha2::{Digest, Sha256};
        let hash: String = Sha256::digest(&text).iter().map(|byte| format!("{byte:02x}")).collect();
        assert_eq!(house.store.key_use(&hash, now).await.expect("the store"), None, "{text}");
    }
}

#[tokio::test]
async fn elsewhere_a_keeper_alone_gets_a_code() {
    let mut house = north().await;
    for carer in [BEA, CLEO] {
        let (ok, said) = house.say_as(carer, "/place link").await;
        assert!(!ok);
        assert_eq!(said, "Only a keeper sets things up: ask Ada.");
    }
    assert!(!house.say_as(DOT, "/place link").await.0);
    for line in ["/place link <#70>", "/place link zone UTC", "/place link code AAAAA-AAAAA"] {
        let said = house.refused(line).await;
        assert_eq!(
            said,
            "A channel, a zone or a code is said on the server itself; here say /place link alone, for a code."
        );
    }
}

#[tokio::test]
async fn carers_get_an_account() {
    let mut house = north().await;
    let said = house.say("/carer add \"Maya Example\" sitter member <@500>").await;
    holds(
        &said,
        &[
            "Maya Example shares the work as sitter.",
            "Maya Example may now log from the group's chat.",
        ],
    );
    let of = |carer: u32, account: i64| (carer, account);
    let accounts = house.store.accounts(house.place).await.expect("the store");
    assert_eq!(accounts, [of(5, MAYA)]);
    let said = house.refused("/carer set Bea member <@500>").await;
    assert_eq!(said, "That account is Maya Example's already; each carer has their own.");
    let said = house.refused("/carer add Tove <@500>").await;
    assert!(said.contains("Maya Example's already"), "{said}");
    let said = house.refused("/carer set Dot member <@501>").await;
    assert_eq!(said, "Dot as helper has no account; say another role with it.");
    let said = house.refused("/carer add Tove helper <@501>").await;
    assert!(said.starts_with("Tove as helper has no account"), "{said}");
    let before = house.store.tail(house.place, 0).await.expect("the journal").entries.len();
    assert_eq!(
        house.say("/carer set Bea member <@501>").await,
        "Bea may now log from the group's chat."
    );
    let after = house.store.tail(house.place, 0).await.expect("the journal").entries.len();
    assert_eq!(after, before, "an account is no entry");
    let said = house.say("/carer set Dot role regular member <@502>").await;
    holds(&said, &["Dot is regular now.", "Dot may now log from the group's chat."]);
    // Who has left gives their account free.
    house.say("/carer retire Maya").await;
    house.say("/carer set Cleo member <@500>").await;
    let accounts = house.store.accounts(house.place).await.expect("the store");
    assert_eq!(accounts, [of(BEA, 501), of(CLEO, MAYA), of(DOT, 502)]);
    assert_eq!(house.app.house.keeper_accounts(house.place).await, []);
    assert_eq!(verify::differences(&house.store, house.place).await, 0);
}

#[tokio::test]
async fn what_may_be_chosen_is_offered_to_whom_may_say_it() {
    let house = north().await;
    let offers = async |carer: u32, line: &str, sub: Option<&str>, option: &str, typed: &str| {
        house
            .app
            .house
            .offers(house.place, carer, line, sub, option, typed)
            .await
    };
    assert_eq!(offers(BEA, "did", None, "spot", "north s").await, ["North salt"]);
    assert_eq!(offers(1, "pool", Some("retire"), "spot", "south f").await, ["South fresh"]);
    for (carer, line, sub) in [(BEA, "pool", Some("retire")), (DOT, "did", None), (99, "did", None)] {
        assert!(offers(carer, line, sub, "spot", "").await.is_empty(), "{carer} {line}");
    }
    let fitting = async |raw: &str| house.app.house.fitting_name(house.place, raw).await.expect("the store");
    assert_eq!(fitting("BEA").await, "BEA 2");
    assert_eq!(fitting("Maya ★ <Example>").await, "Maya ★ Example");
}

/// Keepers of a place that nobody has linked, and of none.
#[tokio::test]
async fn nobody_is_told_of_where_nobody_is() {
    let house = TestHouse::new("UTC").await;
    assert_eq!(house.app.house.keeper_accounts(house.place).await, []);
    assert_eq!(house.app.house.keeper_accounts(4_711).await, []);
    let answer: Answer = house.app.house.stranger(4_711).await;
    assert!(!answer.ok && answer.private);
    assert!(house.app.house.me(house.place, 1).await.is_some_and(|me| me.role == "keeper"));
    let role = wrackline::house::role_word(Role::Keeper);
    assert_eq!(role, "role-keeper");
}
