//! The scenarios of the program, set up on the double: their people are members of the server, and what happens there
//! is said and pressed by them.

mod club;
mod family;
mod sitter;

use std::collections::BTreeMap;

use wrackline::chat::plain;
use wrackline::house::{Input, Said};
use wrackline::replay::Scenario;
use wrackline::replay::scenario::dated;
use wrackline_core::civil::plus_days;
use wrackline_tests::platform::{Message, Opt, Permissions, UserId, usual_permissions};
use wrackline_tests::stage::{Stage, ZONE};

use super::crowded::choices;
use super::{done, read};

/// A scenario's place on the double, at noon of the day before its first.
struct Scene {
    stage: Stage,
    people: BTreeMap<String, UserId>,
}

impl Scene {
    /// Sets a scenario up. These people besides the keeper have accounts on the platform.
    async fn set(name: &str, members: &[&str]) -> Self {
        let scenario = Scenario::load(name).expect("a scenario");
        let first = scenario.from.expect("a first day");
        let stage = Stage::new().await;
        stage.at(&format!("{} 12:00", plus_days(first, -1)));
        let keeper = stage.double.member(stage.guild, &scenario.keeper);
        stage.double.join(
            stage.guild,
            keeper,
            usual_permissions() | Permissions::MANAGE_GUILD,
        );
        let link = [Opt::channel("channel", stage.channel), Opt::text("zone", ZONE)];
        stage.say(keeper, "place link", &link).await;
        let place = stage.place().await;
        for (line, number) in scenario.set_up.iter().zip(1..) {
            let said = Said {
                place,
                carer: 1,
                id: format!("scene:{number}"),
                input: Input::Line(dated(line, first)),
                photo: None,
            };
            let answer = stage.app.house.hear(said).await;
            assert!(answer.ok, "{line}: {}", plain::text(&answer.blocks));
        }
        let mut people = BTreeMap::from([(scenario.keeper.clone(), keeper)]);
        for name in members {
            let member = stage.double.member(stage.guild, name);
            let options = [Opt::text("carer", name), Opt::user("member", member)];
            let said = done(&stage, keeper, "carer set", &options).await;
            assert!(said.contains("may now log"), "{said}");
            people.insert((*name).to_owned(), member);
        }
        Self { stage, people }
    }

    fn who(&self, name: &str) -> UserId {
        self.people[name]
    }

    /// Lets the house work at a local time; what it posted by itself, oldest first.
    async fn at(&mut self, local: &str) -> Vec<Message> {
        self.stage.at(local);
        self.work().await
    }

    /// Lets the house work now; what it posted by itself.
    async fn work(&mut self) -> Vec<Message> {
        let before = self.stage.posts().len();
        self.stage.turn().await;
        self.stage.posts().split_off(before)
    }

    /// A post as it stands now.
    async fn now(&mut self, post: &Message) -> Message {
        self.stage.turn().await;
        self.stage.double.message(post.id).expect("the post")
    }

    /// Presses what asks for a text, and gives it; the answer.
    async fn press_with(&self, post: &Message, label: &str, by: &str, text: &str) -> Message {
        let act = self.stage.double.press_label(post.id, label, self.who(by));
        let act = act.unwrap_or_else(|why| panic!("{label}: {why}"));
        act.modal().await;
        let sent = self.stage.double.submit(&act, &[("text", text)]);
        sent.expect("a form").shown().await
    }

    /// Presses the answer of a post whose code starts so, or chooses it where it stands in a menu.
    async fn answer(&self, post: &Message, code: &str, by: &str) -> Message {
        let (double, who) = (&self.stage.double, self.who(by));
        let button = post
            .shown()
            .into_iter()
            .find(|one| one.custom_id.starts_with(code));
        let act = match button {
            Some(button) => double.press_label(post.id, &button.label, who),
            None => {
                let chosen = choices(post)
                    .into_iter()
                    .find(|(_, value)| value.starts_with(code));
                let (menu, value) =
                    chosen.unwrap_or_else(|| panic!("{code} is no answer to {:?}", post.shown()));
                double.choose(post.id, &menu, who, &[&value])
            }
        };
        act.expect("an answer").shown().await
    }

    /// Whom a post called by name when it went out.
    fn called(&self, post: &Message) -> Vec<&str> {
        let users = &post.history[0].notified.users;
        let named = self.people.iter().filter(|(_, user)| users.contains(user));
        assert_eq!(named.clone().count(), users.len(), "a stranger is called");
        named.map(|(name, _)| name.as_str()).collect()
    }
}

/// A post reads as all of these words say.
#[track_caller]
fn reads(post: &Message, words: &[&str]) {
    let text = read(post);
    for words in words {
        assert!(text.contains(words), "“{words}” is not in:\n{text}");
    }
}

/// The turns of a call: the number of each, what it is, and whose.
fn turns(call: &Message) -> Vec<(String, String, String)> {
    let text = read(call);
    let turn = |line: &str| {
        let mut parts = line.split(" · ").map(str::to_owned);
        let number = parts.next()?.split(' ').next_back()?.to_owned();
        let is_number = number.chars().all(|letter| letter.is_ascii_digit());
        let (what, whose) = (parts.next()?, parts.next()?);
        is_number.then_some((number, what, whose))
    };
    text.lines().skip(1).filter_map(turn).collect()
}
