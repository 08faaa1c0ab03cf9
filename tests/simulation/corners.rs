//! Corners that chance seldom turns: each is one fault at one moment.

use jiff::{SignedDuration, civil};
use wrackline::chat::plain;
use wrackline::commands::init::make_place;
use wrackline::house::Input;
use wrackline::replay::carers::Dice;
use wrackline::store::PostState;
use wrackline_tests::faults::{Fault, Slip};

use super::corner::{Corner, settled};
use super::world::{Job, Outcome};

const MORNING: &str = "round.1.2026-06-04";

/// The reply to a call is lost, and a carer answers it before it is sent again: the chat gives back the message that is
/// there, which shows the older version.
#[test]
fn a_call_whose_reply_was_lost_shows_what_was_answered_meanwhile() {
    super::block_on(async {
        let mut corner = Corner::called().await;
        corner.world.chat.slip_in(0, Slip::LostReply);
        corner.job(0, Job::Dispatch).await;
        corner.say("/did look north").await;
        corner.at("2026-06-04 09:00").await;
        let shown = corner.shown(MORNING).expect("the call");
        assert!(
            settled(&shown)[0],
            "the call shows the look as open: {}",
            plain::text(&shown.blocks)
        );
    });
}

/// A turn is answered in one process while another one is sending its call, in whichever order they come to the store.
#[test]
fn a_call_that_is_answered_while_it_is_sent_shows_the_answer() {
    super::block_on(async {
        for order in 0..12 {
            let mut corner = Corner::called().await;
            corner.dice = Dice::new(order);
            let look = corner.said(Input::Line("/did look north".to_owned()));
            let jobs = vec![(0, Job::Dispatch), (1, Job::Hear(look))];
            corner.world.work(&mut corner.dice, jobs).await;
            corner.at("2026-06-04 09:00").await;
            let shown = corner.shown(MORNING).expect("the call");
            let text = plain::text(&shown.blocks);
            assert!(
                settled(&shown)[0],
                "the call shows the look as open in order {order}: {text}"
            );
        }
    });
}

/// The same where the process dies before it records that the call is out.
#[test]
fn a_call_that_was_sent_by_a_dead_process_shows_what_was_answered_meanwhile() {
    super::block_on(async {
        let mut corner = Corner::called().await;
        // The claim, the book's head, the settlement.
        corner.world.processes[0].store.fault_in(2, Fault::StopBefore);
        assert!(matches!(corner.job(0, Job::Dispatch).await, Outcome::Stopped));
        assert!(corner.shown(MORNING).is_some(), "it died before it sent the call");
        corner.world.restart(0);
        corner.say("/did look north").await;
        corner.at("2026-06-04 09:00").await;
        let shown = corner.shown(MORNING).expect("the call");
        assert!(
            settled(&shown)[0],
            "the call shows the look as open: {}",
            plain::text(&shown.blocks)
        );
    });
}

/// A call of the evening that the chat refuses until the quiet hours have begun waits for their end.
#[test]
fn a_call_that_the_chat_refused_does_not_wake_people() {
    super::block_on(async {
        let mut corner = Corner::new().await;
        corner.at("2026-06-04 21:57").await;
        corner.world.chat.set_refusing(Some(Slip::Passing(Some(240_000))));
        corner.at("2026-06-04 21:59").await;
        corner.world.chat.set_refusing(None);
        let call = "round.2.2026-06-04";
        corner.at("2026-06-05 06:59").await;
        assert_eq!(corner.shown(call), None, "people were woken");
        corner.at("2026-06-05 07:01").await;
        assert!(corner.shown(call).is_some(), "the call never came");
    });
}

/// A danger is told in the quiet hours too, as soon as the chat takes it.
#[test]
fn a_danger_that_the_chat_refused_is_told_at_night() {
    super::block_on(async {
        let mut corner = Corner::new().await;
        corner.at("2026-06-04 23:00").await;
        corner.world.chat.set_refusing(Some(Slip::Passing(None)));
        corner.say("/saw leak north salt").await;
        corner.settle().await;
        corner.at("2026-06-04 23:05").await;
        corner.world.chat.set_refusing(None);
        corner.at("2026-06-04 23:15").await;
        let shown = corner.world.chat.shown();
        assert!(
            shown.iter().any(|shown| shown.nonce.starts_with("seen.")),
            "nobody was told of the leak"
        );
    });
}

/// A danger is still told after a chat that was out for hours.
#[test]
fn a_danger_outlives_a_long_outage() {
    super::block_on(async {
        let mut corner = Corner::new().await;
        corner.at("2026-06-04 10:00").await;
        corner.world.chat.set_refusing(Some(Slip::Passing(None)));
        corner.say("/saw leak north salt").await;
        corner.settle().await;
        for hour in 10..16 {
            for minute in (5..60).step_by(5) {
                corner.at(&format!("2026-06-04 {hour}:{minute:02}")).await;
            }
        }
        corner.world.chat.set_refusing(None);
        corner.at("2026-06-04 16:15").await;
        let shown = corner.world.chat.shown();
        let alarms = shown
            .iter()
            .filter(|shown| shown.nonce.starts_with("seen."))
            .count();
        assert_eq!(alarms, 1, "the leak is told once, however late");
    });
}

/// A place whose journal cannot be read holds up neither the engine nor the dispatcher of the others.
#[test]
fn a_place_that_cannot_be_read_holds_nobody_up() {
    super::block_on(async {
        let mut corner = Corner::new().await;
        let zone = corner.world.zone.clone();
        let broken = make_place(&*corner.world.store, &zone, "Bea", "", true)
            .await
            .expect("a place");
        let head = corner
            .world
            .store
            .head(broken)
            .await
            .expect("the store")
            .expect("the place");
        let entry = wrackline::store::EntryRow {
            seq: head.last_seq + 1,
            at_ms: 0,
            logged_at_ms: 0,
            by: 1,
            said_by: 1,
            body: "{\"of\":\"a later version\"}".to_owned(),
        };
        let post = wrackline::store::NewPost {
            keys: vec!["seen.1".to_owned()],
            destination: "chat".to_owned(),
            body: "{\"seen\":1}".to_owned(),
            at_ms: 0,
            not_after_ms: i64::MAX,
        };
        let change = wrackline::store::Change {
            entries: vec![entry],
            posts: vec![post],
            ..Default::default()
        };
        corner
            .world
            .store
            .commit(broken, head.version, &change)
            .await
            .expect("the store");
        let morning = zone.instant(civil::date(2026, 6, 4).at(8, 0, 0, 0));
        for minute in 0..10 {
            corner
                .world
                .clock
                .put(morning + SignedDuration::from_mins(minute));
            corner.job(0, Job::Engine).await;
            corner.job(0, Job::Dispatch).await;
        }
        assert!(
            corner.shown(MORNING).is_some(),
            "the other place's call never came"
        );
        let posts = corner
            .world
            .store
            .posts(corner.world.place, 0)
            .await
            .expect("the posts");
        assert_eq!(posts[0].state, PostState::Sent);
    });
}

/// Whoever said a line goes away in the middle, at whichever store call: nothing half-said is left in the book in hand.
#[test]
fn a_caller_who_leaves_leaves_nothing_half_said() {
    super::block_on(async {
        for away in 0.. {
            let mut corner = Corner::new().await;
            let said = corner.said(Input::Line("/saw leak north salt".to_owned()));
            corner.world.processes[0].store.fault_in(away, Fault::StopBefore);
            let outcome = corner.job(0, Job::Hear(said)).await;
            corner.world.processes[0].store.clear();
            if let Outcome::Answered(answer) = outcome {
                assert!(answer.ok && away > 2, "{}", plain::text(&answer.blocks));
                break;
            }
            let book = corner.world.processes[0]
                .house
                .shelf
                .open(corner.world.place)
                .await
                .expect("the book");
            let head = corner
                .world
                .store
                .head(corner.world.place)
                .await
                .expect("the store")
                .expect("the place");
            assert_eq!(
                i64::try_from(book.book().last_seq()),
                Ok(head.last_seq),
                "left at store call {away}"
            );
        }
    });
}
