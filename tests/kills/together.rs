//! Two processes on one database, both at home on the platform: each hears everything, and one of them dies.

use std::sync::Arc;

use wrackline_tests::kills::{Base, Ground, People, Report, compare};

/// How many lines and presses are answered while there are two, and while there is one.
const ANSWERS: usize = 60;

#[tokio::test(flavor = "multi_thread", worker_threads = 4)]
async fn two_that_hear_the_same_do_it_once_and_one_may_die() {
    let ground = Arc::new(Ground::new(Base::Postgres).await);
    let mut one = ground.serve();
    let mut other = ground.serve();
    let gateway = ground.double.gateway();
    gateway.connected(2).await;
    ground.set_up().await;
    let people = People::begin(&ground, 7);
    people.log.reach(ANSWERS).await;
    let twice = people.log.deeds();
    tokio::task::block_in_place(|| one.kill());
    ground.remain(1).await;
    people.log.reach(people.log.answered() + ANSWERS).await;
    let deeds = people.end().await;
    ground.settle().await;
    let (code, _) = tokio::task::block_in_place(|| other.stop());
    assert_eq!(code, Some(0));
    assert_eq!(ground.run(&["verify"]).done(), "0 differences\n");
    let mut report = Report {
        kills: 1,
        ..Report::default()
    };
    compare(&ground, &deeds, &mut report).await;
    eprintln!("{report}");
    assert!(report.is_whole(), "{report}");
    assert!(report.lines >= 60 && report.posts >= 30, "{report}");
    // Each was handed to both and answered by both, and the platform took one answer.
    let heard_by_both = twice.iter().filter(|deed| deed.act.delivered() == 2).count();
    let refused_one = twice.iter().filter(|deed| deed.act.answers_refused() > 0).count();
    assert_eq!(heard_by_both, twice.len(), "both are connected");
    assert!(
        refused_one * 2 > heard_by_both,
        "{refused_one} of {heard_by_both} were answered by both"
    );
    let alone = deeds.iter().skip(twice.len());
    let answered = alone.filter(|deed| deed.act.answer().is_some()).count();
    assert!(answered >= 30, "the other goes on: {answered}");
}
