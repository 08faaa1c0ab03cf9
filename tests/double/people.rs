//! What people can do, and what the platform's app would not let them.

use serde_json::{Value, json};
use wrackline_tests::platform::{ChannelKind, MessageId, Opt, Permissions, usual_permissions};

use super::{Scene, commands, said};
use reqwest::Method;

impl Scene {
    async fn with_commands() -> Self {
        let scene = Self::new().await;
        let path = format!("/applications/{}/commands", scene.double.bot());
        assert_eq!(scene.send(Method::PUT, &path, &commands()).await.status, 200);
        scene
    }

    #[track_caller]
    fn refuses(&self, line: &str, options: &[Opt]) {
        let refused = self.double.command(self.channel, self.person, line, options);
        assert!(refused.is_err(), "/{line} {options:?}");
    }

    /// A message with a button, a disabled one, and a select.
    async fn with_parts(&self) -> MessageId {
        let mut body = said("The pool is due.", "parts");
        body["components"] = json!([
            {"type": 1, "components": [
                {"type": 2, "style": 1, "label": "Did it", "custom_id": "did:1"},
                {"type": 2, "style": 2, "label": "Later", "custom_id": "later:1", "disabled": true},
            ]},
            {"type": 1, "components": [{"type": 3, "custom_id": "which", "options": [
                {"label": "Tide", "value": "tide"}, {"label": "Ebb", "value": "ebb"},
            ]}]},
        ]);
        let path = format!("/channels/{}/messages", self.channel);
        MessageId(self.post(&path, &body).await.id().parse().expect("a number"))
    }
}

#[tokio::test]
async fn commands_are_registered_and_keep_their_ids() {
    let scene = Scene::with_commands().await;
    let path = format!("/applications/{}/commands", scene.double.bot());
    let before = scene.get(&path).await.body;
    let after = scene.send(Method::PUT, &path, &commands()).await.body;
    assert_eq!(before[0]["id"], after[0]["id"]);
    assert_ne!(before[0]["version"], after[0]["version"]);
    assert_eq!(scene.get("/applications/1/commands").await.status, 403);
    assert_eq!(scene.double.await_commands().await.len(), 2);
    scene.double.assert_faultless();
}

#[tokio::test]
async fn a_command_has_to_fit_what_is_registered() {
    let scene = Scene::with_commands().await;
    let what = || Opt::text("what", "scrub");
    scene.refuses("dance", &[]);
    scene.refuses("did", &[]);
    scene.refuses("did", &[Opt::text("what", "swim")]);
    scene.refuses("did", &[what(), Opt::text("litres", "3")]);
    scene.refuses("did", &[what(), Opt::int("litres", 51)]);
    scene.refuses("did", &[what(), Opt::int("buckets", 1)]);
    scene.refuses("did", &[what(), what()]);
    let fits = [what(), Opt::int("litres", 3), Opt::user("who", scene.person)];
    assert!(
        scene
            .double
            .command(scene.channel, scene.person, "did", &fits)
            .is_ok()
    );
    // The subcommand asks for a right that the person does not have.
    let name = [Opt::text("name", "Tide")];
    scene.refuses("pool add", &name);
    let more = usual_permissions() | Permissions::MANAGE_GUILD;
    scene.double.join(scene.guild, scene.person, more);
    assert!(
        scene
            .double
            .command(scene.channel, scene.person, "pool add", &name)
            .is_ok()
    );
    scene.refuses("pool", &[]);
    scene.refuses("pool drain", &name);
    scene.double.leave(scene.guild, scene.person);
    scene.refuses("did", &[what()]);
    let stranger = scene.double.dm(scene.double.person("Ilja Example"));
    assert!(
        scene
            .double
            .command(stranger, scene.person, "did", &[what()])
            .is_err()
    );
    let shelf = scene.double.channel(scene.guild, ChannelKind::Category, "shelf");
    assert!(
        scene
            .double
            .command(shelf, scene.person, "did", &[what()])
            .is_err()
    );
}

#[tokio::test]
async fn only_what_completes_is_completed() {
    let scene = Scene::with_commands().await;
    let (double, what) = (&scene.double, Opt::text("what", "scrub"));
    let pool = Opt::text("pool", "ti");
    assert!(
        double
            .complete(scene.channel, scene.person, "did", &[], &pool)
            .is_ok()
    );
    assert!(
        double
            .complete(scene.channel, scene.person, "did", &[], &what)
            .is_err()
    );
}

#[tokio::test]
async fn only_what_is_shown_is_pressed() {
    let scene = Scene::new().await;
    let message = scene.with_parts().await;
    let (double, person) = (&scene.double, scene.person);
    assert!(double.press(message, "did:1", person).is_ok());
    assert!(double.press_label(message, "Did it", person).is_ok());
    assert!(double.press_label(message, "Did what", person).is_err());
    assert!(double.press(message, "did:2", person).is_err());
    assert!(double.press(message, "later:1", person).is_err(), "disabled");
    assert!(double.press(message, "which", person).is_err(), "a select");
    assert!(
        double
            .press(message, "did:1", double.person("Ilja Example"))
            .is_err(),
        "not there"
    );
    assert!(double.choose(message, "which", person, &["ebb"]).is_ok());
    assert!(double.choose(message, "which", person, &["flood"]).is_err());
    assert!(double.choose(message, "which", person, &[]).is_err());
    assert!(double.choose(message, "which", person, &["ebb", "tide"]).is_err());
    assert!(
        double.choose(message, "did:1", person, &["ebb"]).is_err(),
        "a button"
    );
    double.delete_message(message);
    assert!(double.press(message, "did:1", person).is_err(), "gone");
}

#[tokio::test]
async fn a_modal_is_sent_off_as_it_was_shown() {
    let scene = Scene::new().await;
    let message = scene.with_parts().await;
    let pressed = scene
        .double
        .press(message, "did:1", scene.person)
        .expect("a press");
    assert!(scene.double.submit(&pressed, &[]).is_err(), "no modal is shown");
    let input = |id: &str, more: &Value| {
        let mut input = json!({"type": 4, "custom_id": id, "style": 1, "label": "Salt"});
        for (key, value) in more.as_object().into_iter().flatten() {
            input[key] = value.clone();
        }
        json!({"type": 1, "components": [input]})
    };
    let modal = json!({"type": 9, "data": {"custom_id": "reading:1", "title": "A reading", "components": [
        input("salt", &json!({"max_length": 5})),
        input("note", &json!({"required": false, "value": "clear"})),
    ]}});
    let path = format!("/interactions/{}/{}/callback", pressed.id(), pressed.token());
    assert_eq!(scene.post(&path, &modal).await.status, 204);
    assert_eq!(pressed.modal().await["title"], "A reading");
    let submit = |inputs: &[(&str, &str)]| scene.double.submit(&pressed, inputs);
    assert!(submit(&[]).is_err(), "salt is required");
    assert!(submit(&[("salt", "1.0245")]).is_err(), "too long");
    assert!(
        submit(&[("salt", "1.02"), ("sugar", "1")]).is_err(),
        "no such input"
    );
    assert!(submit(&[("salt", "1.02")]).is_ok());
    scene.double.assert_faultless();
}
