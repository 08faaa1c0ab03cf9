//! A place moves from a file to a server's database and back, and is at home on the platform all along.

use std::time::Duration;

use wrackline::clock::wait;
use wrackline_tests::binary::Serve;
use wrackline_tests::kills::{Base, Ground};
use wrackline_tests::platform::{Message, Opt};
use wrackline_tests::postgres;

/// What is posted twice is posted twice soon.
const SOON: Duration = Duration::from_secs(3);

/// The channel's posts, without the first word of the linking.
fn posts(ground: &Ground) -> Vec<Message> {
    let seen = ground.double.seen_messages(ground.channel).into_iter();
    seen.filter(|message| message.interaction.is_none())
        .skip(1)
        .collect()
}

/// A danger is told with a note; the receipt.
async fn tell(ground: &Ground, sighting: &str, note: &str) -> String {
    let told = [
        Opt::text("sighting", sighting),
        Opt::text("spot", "north salt"),
        Opt::text("note", note),
    ];
    let receipt = ground.say("saw", &told).await;
    assert!(receipt.contains("North salt"), "{receipt}");
    receipt
}

/// A danger that is not open yet is told with a note, and posted.
async fn alarm(ground: &Ground, sighting: &str, note: &str) -> Message {
    tell(ground, sighting, note).await;
    for _ in 0..100 {
        let found = posts(ground).into_iter().find(|post| post.text().contains(note));
        if let Some(post) = found {
            return post;
        }
        wait(Duration::from_millis(100)).await;
    }
    panic!("{note} is not posted: {:#?}", posts(ground));
}

/// What was posted before the move is seen again, and the same message tells it.
async fn seen_again(ground: &Ground, post: &Message, sighting: &str, note: &str) {
    let receipt = tell(ground, sighting, note).await;
    assert!(receipt.contains("seen again"), "{receipt}");
    let told = |message: &Message| message.text().contains(note);
    ground.double.await_message(post.id, told).await;
}

/// It stops, is copied, and the copy put into another database, where it serves from then on.
async fn moves(ground: &mut Ground, mut serve: Serve, to: Option<String>, copy: &str) -> Serve {
    wait(SOON).await;
    let (code, _) = tokio::task::block_in_place(|| serve.stop());
    assert_eq!(code, Some(0));
    ground.remain(0).await;
    let file = ground.file(copy);
    ground.run(&["backup", &file]).done();
    ground.address = to;
    ground.run(&["restore", &file]).done();
    assert_eq!(ground.run(&["verify"]).done(), "0 differences\n");
    let serve = ground.serve();
    ground.double.gateway().connected(1).await;
    serve
}

/// A post from before the move is pressed, and the same message shows it.
async fn goes_on(ground: &Ground, post: &Message) {
    let act = ground
        .double
        .press_label(post.id, "I'm going", ground.people[1])
        .expect("a button");
    assert!(act.shown().await.text().contains("goes to look"));
    let after = |message: &Message| message.text().contains("Carer 1");
    ground.double.await_message(post.id, after).await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_place_stays_at_home_when_it_moves_and_moves_back() {
    let mut ground = Ground::new(Base::Sqlite).await;
    let serve = ground.serve();
    ground.set_up().await;
    let first = alarm(&ground, "leak", "in the file").await;
    let there = tokio::task::block_in_place(postgres::database);
    let serve = moves(&mut ground, serve, Some(there), "there.db").await;
    goes_on(&ground, &first).await;
    seen_again(&ground, &first, "leak", "more of it").await;
    let second = alarm(&ground, "tipped filter", "on the server").await;
    let serve = moves(&mut ground, serve, None, "back.db").await;
    goes_on(&ground, &second).await;
    seen_again(&ground, &second, "tipped filter", "and again").await;
    let third = alarm(&ground, "escape", "back in the file").await;
    wait(SOON).await;
    let out: Vec<_> = posts(&ground).iter().map(|post| post.id).collect();
    assert_eq!(out, [first.id, second.id, third.id], "each once");
    let mut serve = serve;
    let (code, _) = tokio::task::block_in_place(|| serve.stop());
    assert_eq!(code, Some(0));
    assert_eq!(ground.run(&["verify"]).done(), "0 differences\n");
    ground.double.assert_faultless();
}
