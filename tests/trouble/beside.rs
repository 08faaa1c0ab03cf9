//! Many places beside each other: none waits for another's channel, and a thousand posts take no longer than the
//! platform's limit asks.

use std::num::NonZeroU16;
use std::time::{Duration, Instant};

use wrackline::chat::discord::sender::Limits;
use wrackline::outbox::Dispatcher;
use wrackline::store::{Change, NewPost, PlaceId, ServerRow};
use wrackline_tests::platform::{Bucket, ChannelId, ChannelKind, DoubleConfig, Opt, Route};
use wrackline_tests::stage::{Setting, Stage};

use super::{set_up_in, until};

/// A place with a server and a channel of its own.
struct Other {
    id: PlaceId,
    channel: ChannelId,
}

/// A stage whose place has seen something, and so many places like it, each at home in a channel of its own. The engine
/// has nothing to do there.
async fn with_others(setting: Setting, count: usize) -> (Stage, Vec<Other>) {
    let mut stage = set_up_in(setting).await;
    let options = [
        Opt::text("sighting", "crab in trouble"),
        Opt::text("spot", "North"),
    ];
    let answer = stage.say(stage.ilja, "saw", &options).await;
    assert!(!answer.text().contains("Nothing was saved"), "{}", answer.text());
    stage.turn().await;
    let tail = stage.store.tail(stage.place().await, 0).await.expect("a journal");
    let number = |id: u64| i64::try_from(id).expect("a number");
    let mut others = Vec::new();
    for which in 0..count {
        let guild = stage.double.guild(&format!("Hall {which}"));
        let channel = stage.double.channel(guild, ChannelKind::Text, "pools");
        let change = Change {
            entries: tail.entries.clone(),
            names: tail.names.clone(),
            notes: tail.notes.clone(),
            server: Some(ServerRow {
                server: number(guild.0),
                channel: number(channel.0),
            }),
            next_at_ms: Some(None),
            ..Change::default()
        };
        let id = stage.store.create_place(false, &change).await.expect("a place");
        others.push(Other { id, channel });
    }
    (stage, others)
}

/// So many posts of what was seen fall due in a place.
async fn fall_due(stage: &Stage, place: PlaceId, name: &str, count: usize) {
    let posts = stage.store.posts(stage.place().await, 0).await.expect("posts");
    let of = posts.last().expect("what was seen was posted");
    let at_ms = stage.app.house.clock.now().as_millisecond();
    let post = |which| NewPost {
        keys: vec![format!("{name}.{which}")],
        destination: of.destination.clone(),
        body: of.body.clone(),
        at_ms,
        not_after_ms: at_ms + 72 * 3_600_000,
    };
    let change = Change {
        posts: (0..count).map(post).collect(),
        ..Change::default()
    };
    let head = stage.store.head(place).await.expect("a head").expect("a place");
    let written = stage.store.commit(place, head.version, &change).await;
    written.expect("the posts are written");
}

/// The dispatcher as the process runs it.
fn run(stage: &Stage) -> tokio::task::JoinHandle<()> {
    let chat = stage.app.way_out(Some(&stage.gateway));
    let dispatcher = Dispatcher::new(stage.app.house.clone(), chat, "beside".to_owned());
    tokio::spawn(dispatcher.run())
}

fn arrived(stage: &Stage, other: &Other) -> usize {
    stage.double.seen_messages(other.channel).len()
}

/// How often the dispatcher has tried to post in a channel.
fn tried(stage: &Stage, other: &Other) -> usize {
    let path = format!("/channels/{}/messages", other.channel);
    let tried = stage.double.requests_of(Route::CreateMessage);
    tried.iter().filter(|request| request.path == path).count()
}

/// How long a channel with a limit of its own takes no second post: it is waited for all the time that a test lasts.
const WINDOW: Duration = Duration::from_secs(120);

/// Lets a post fall due in a place while the dispatcher runs, and gives how long it took to arrive.
async fn one_more(stage: &Stage, other: &Other, name: &str) -> Duration {
    let before = arrived(stage, other);
    let begun = Instant::now();
    fall_due(stage, other.id, name, 1).await;
    stage.app.house.bell.ring();
    until("its post", 50, || arrived(stage, other) > before).await;
    begun.elapsed()
}

/// One place's channel is in trouble, with five posts; the other's one post comes at once. At once is a second beside what
/// the machine takes for such a post while nobody is in trouble: it may be at other work.
async fn one_beside_another(trouble: impl Fn(&Stage, &Other)) -> (Stage, Vec<Other>) {
    let limits = Limits {
        wait_max: WINDOW * 2,
        ..Limits::default()
    };
    let setting = Setting {
        limits,
        ..Setting::default()
    };
    let (stage, others) = with_others(setting, 3).await;
    let running = run(&stage);
    let mut alone = Duration::ZERO;
    for name in ["first", "next"] {
        alone = alone.max(one_more(&stage, &others[2], name).await);
    }
    let at_once = Duration::from_secs(1) + alone * 10;
    trouble(&stage, &others[0]);
    fall_due(&stage, others[0].id, "first", 5).await;
    stage.app.house.bell.ring();
    until("the first try", 50, || tried(&stage, &others[0]) > 0).await;
    // The next one too, while the first place is still waiting.
    for name in ["first", "next"] {
        let took = one_more(&stage, &others[1], name).await;
        assert!(took < at_once, "{took:?}, alone {alone:?}");
    }
    running.abort();
    stage.double.assert_faultless();
    (stage, others)
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_channel_with_a_limit_of_its_own_delays_no_other() {
    let (stage, others) = one_beside_another(|stage, other| {
        let one_in_a_while = Bucket {
            size: 1,
            window: WINDOW,
        };
        stage.double.limit(|limits| {
            let channel = (Route::CreateMessage, other.channel.0);
            limits.channels.insert(channel, one_in_a_while);
        });
    })
    .await;
    assert!(arrived(&stage, &others[0]) < 2, "it is still waiting");
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_channel_that_is_gone_delays_no_other() {
    let (stage, others) = one_beside_another(|stage, other| stage.double.delete_channel(other.channel)).await;
    assert_eq!(arrived(&stage, &others[0]), 0);
    assert_eq!(
        tried(&stage, &others[0]),
        1,
        "one refusal is enough for five posts"
    );
}

/// Posts that fall due together, and how many the platform takes in a second: so few that it is the limit that is
/// measured, not the machine that runs house and platform at once.
const POSTS: u32 = 1_000;
const PER_S: u16 = 100;

/// A limit that no machine reaches, and so many posts that tell how fast this one is.
const UNLIMITED_PER_S: u16 = 20_000;
const PACE_POSTS: u32 = 250;

/// How long it takes until so many posts that fall due together have arrived, each in a channel of its own.
async fn all_arrive(posts: u32, per_s: u16) -> Duration {
    let mut double = DoubleConfig::default();
    double.limits.global = Bucket {
        size: per_s.into(),
        window: Duration::from_secs(1),
    };
    let setting = Setting {
        double,
        limits: Limits {
            global_per_s: NonZeroU16::new(per_s).expect("not 0"),
            ..Limits::default()
        },
        ..Setting::default()
    };
    let (stage, others) = with_others(setting, posts as usize).await;
    for other in &others {
        fall_due(&stage, other.id, "first", 1).await;
    }
    let begun = Instant::now();
    let running = run(&stage);
    until("all of them", 120, || {
        others.iter().all(|other| arrived(&stage, other) > 0)
    })
    .await;
    let took = begun.elapsed();
    running.abort();
    for other in &others {
        assert_eq!(arrived(&stage, other), 1, "nothing is doubled");
    }
    assert_eq!(stage.double.throttled(), 0);
    stage.double.assert_faultless();
    took
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_thousand_posts_take_as_long_as_the_limit_asks() {
    let before = all_arrive(PACE_POSTS, UNLIMITED_PER_S).await;
    let took = all_arrive(POSTS, PER_S).await;
    let after = all_arrive(PACE_POSTS, UNLIMITED_PER_S).await;
    // What else runs on the machine may leave it slower than the limit: then it is the machine that asks.
    let machine = before.max(after) * POSTS / PACE_POSTS;
    let limit = Duration::from_secs(u64::from(POSTS / u32::from(PER_S)));
    eprintln!(
        "{POSTS} posts at {PER_S}/s: {took:?}; the limit alone asks for {limit:?}, the machine for {machine:?}"
    );
    let asked = limit.max(machine);
    assert!(took <= asked * 11 / 10 + Duration::from_millis(500), "{took:?}");
}
