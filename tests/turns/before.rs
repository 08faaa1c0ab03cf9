//! What was known before an entry, of all that is said of turns: a turn's reasons are told from it.

use wrackline_core::care::board;
use wrackline_core::journal::{Book, Event};
use wrackline_core::matter;
use wrackline_core::rota::{HORIZON_DAYS, SharedOut, share_out};

use super::{change_of, name, plan, posted, said, shared};
use crate::talk::{BEA, CLEO, posted_at};

#[tokio::test]
async fn what_people_say_of_turns_is_let_go_of_as_if_it_were_never_said() {
    let mut house = shared().await;
    house.say("/duty set top-up nod yes").await;
    let plan = plan(&house).await;
    let turn = change_of(&plan, &[1]);
    let owner = turn.carer.expect("somebody").0;
    let other = if owner == BEA { CLEO } else { BEA };
    let offer = format!("/offer {} to {}", said(turn), name(other));
    for (carer, line) in [
        (1, "/did top-up north fresh by Dot"),
        (1, "/nod top-up north fresh"),
        (1, "/undo"),
        (1, "/nod top-up north fresh"),
        (owner, offer.as_str()),
        (other, "/offer no"),
        (other, "/undo"),
        (other, "/away from 2026-03-02 to 2026-03-07 sure"),
        (other, "/away back"),
        (BEA, "/saw leak south salt note under the tank"),
        (CLEO, "/saw leak south salt note more of it"),
        (CLEO, "/undo"),
        (1, "/read north 80% 26C"),
        (1, "/carer retire Dot"),
    ] {
        let (ok, answer) = house.say_as(carer, line).await;
        assert!(ok, "{line}: {answer}");
    }
    posted(&house).await;
    posted_at(&house, "2026-03-03 08:00").await;
    let held = house.app.house.shelf.open(house.place).await.expect("the book");
    let now = house.app.house.clock.now();
    let known = |book: &Book| -> (SharedOut, Vec<_>, Vec<_>) {
        let place = book.place_at(now);
        let marks = board(book, &place, now);
        let matters = book.matters(now).collect();
        let looks = matter::follow_ups(book, &place, now);
        (share_out(book, &place, &marks, now, HORIZON_DAYS), matters, looks)
    };
    let last = held.book().last_seq();
    let waits = |event: &Event| matches!(event, Event::Nodded(_) | Event::Waits(..));
    let kinds = held.book().entries().filter(|entry| waits(&entry.event)).count();
    assert!(kinds >= 3, "{kinds}");
    for seq in 1..=last + 1 {
        let earlier = held.book().entries().filter(|entry| entry.seq < seq);
        let earlier = Book::of(earlier.cloned());
        let before = held.book().before(seq);
        assert_eq!(known(&before), known(&earlier), "before {seq}");
        let waiting = |book: &Book| book.waiting().collect::<Vec<_>>();
        assert_eq!(waiting(&before), waiting(&earlier), "before {seq}");
    }
}
