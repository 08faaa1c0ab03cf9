//! The words a person reads, from the Fluent files in `locales/`.
//!
//! Code names a message by its id and hands over its arguments; it never builds a sentence of its own.

mod native;

use std::borrow::Cow;

use fluent_bundle::concurrent::FluentBundle;
use fluent_bundle::{FluentArgs, FluentResource, FluentValue};

/// The files of a language, in the order in which they are read.
const ENGLISH: [(&str, &str); 20] = [
    ("names", include_str!("../locales/en/names.ftl")),
    ("lines", include_str!("../locales/en/lines.ftl")),
    ("desk", include_str!("../locales/en/desk.ftl")),
    ("posts", include_str!("../locales/en/posts.ftl")),
    ("set-up", include_str!("../locales/en/set-up.ftl")),
    ("people", include_str!("../locales/en/people.ftl")),
    ("batches", include_str!("../locales/en/batches.ftl")),
    ("how", include_str!("../locales/en/how.ftl")),
    ("alone", include_str!("../locales/en/alone.ftl")),
    ("calendar", include_str!("../locales/en/calendar.ftl")),
    ("fit", include_str!("../locales/en/fit.ftl")),
    ("cycle", include_str!("../locales/en/cycle.ftl")),
    ("emergency", include_str!("../locales/en/emergency.ftl")),
    ("turns", include_str!("../locales/en/turns.ftl")),
    ("photo", include_str!("../locales/en/photo.ftl")),
    ("rehearse", include_str!("../locales/en/rehearse.ftl")),
    ("sheet", include_str!("../locales/en/sheet.ftl")),
    ("report", include_str!("../locales/en/report.ftl")),
    ("water", include_str!("../locales/en/water.ftl")),
    ("porch", include_str!("../locales/en/porch.ftl")),
];

/// An argument of a message.
#[derive(Clone, Debug, PartialEq)]
pub enum Arg {
    /// A text, shown as it is.
    Text(String),
    /// A number, for plural forms.
    Number(f64),
    /// Another message.
    Message(Box<Message>),
}

impl From<String> for Arg {
    fn from(text: String) -> Self {
        Self::Text(text)
    }
}

impl From<&str> for Arg {
    fn from(text: &str) -> Self {
        Self::Text(text.to_owned())
    }
}

impl From<char> for Arg {
    fn from(letter: char) -> Self {
        Self::Text(letter.to_string())
    }
}

impl From<Message> for Arg {
    fn from(message: Message) -> Self {
        Self::Message(Box::new(message))
    }
}

macro_rules! from_numbers {
    ($($number:ty),*) => {
        $(impl From<$number> for Arg {
            fn from(number: $number) -> Self {
                // Counts and quantities shown to people lie far below the 2^53 that a double holds exactly.
                Self::Number(number as f64)
            }
        })*
    };
}
from_numbers!(u16, u32, i32, u64, i64, usize, f64);

/// A message with its arguments.
#[derive(Clone, Debug, PartialEq)]
pub struct Message {
    /// Its id in the Fluent files.
    pub id: Cow<'static, str>,
    /// Its arguments.
    pub args: Vec<(&'static str, Arg)>,
}

impl Message {
    /// A message without arguments.
    #[must_use]
    pub fn new(id: impl Into<Cow<'static, str>>) -> Self {
        Self {
            id: id.into(),
            args: Vec::new(),
        }
    }

    /// The same message with one more argument.
    #[must_use]
    pub fn with(mut self, name: &'static str, value: impl Into<Arg>) -> Self {
        self.args.push((name, value.into()));
        self
    }
}

/// A message by its id, with arguments by name: `msg!("receipt-done", pool = name, count = 3)`.
#[macro_export]
macro_rules! msg {
    ($id:expr $(, $name:ident = $value:expr)* $(,)?) => {
        $crate::words::Message::new($id)$(.with(stringify!($name), $value))*
    };
}

/// The words of one language.
pub struct Words {
    bundle: FluentBundle<FluentResource>,
    native: native::Native,
}

impl std::fmt::Debug for Words {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Words").finish_non_exhaustive()
    }
}

impl Words {
    /// English.
    ///
    /// # Panics
    /// When a file does not parse or an id stands twice: both are held by a test.
    #[must_use]
    pub fn english() -> Self {
        let mut bundle = FluentBundle::new_concurrent(vec![unic_langid::LanguageIdentifier::default()]);
        // Marks around arguments would show up in plain terminals and in tests as invisible letters.
        bundle.set_use_isolating(false);
        for (name, text) in ENGLISH {
            let resource = FluentResource::try_new(text.to_owned())
                .unwrap_or_else(|(_, errors)| panic!("{name}.ftl does not parse: {errors:?}"));
            bundle
                .add_resource(resource)
                .unwrap_or_else(|errors| panic!("{name}.ftl: {errors:?}"));
        }
        Self {
            bundle,
            native: native::Native::read(),
        }
    }

    /// What a native command of the chat platform is called in other languages, by the platform's code of each
    /// language; for `native-due`, `native-sub-add`, `native-option-spot`.
    #[must_use]
    pub fn native(&self, id: &str) -> Vec<(&'static str, String)> {
        self.native.names(id)
    }

    /// Says a message. An id that is missing is said as itself, in brackets: a test holds that none is.
    #[must_use]
    pub fn say(&self, message: &Message) -> String {
        let Some(pattern) = self
            .bundle
            .get_message(&message.id)
            .and_then(|found| found.value())
        else {
            return format!("[{}]", message.id);
        };
        let mut args = FluentArgs::new();
        for (name, value) in &message.args {
            let value: FluentValue<'_> = match value {
                Arg::Text(text) => text.as_str().into(),
                Arg::Number(number) => (*number).into(),
                Arg::Message(message) => self.say(message).into(),
            };
            args.set(*name, value);
        }
        let mut errors = Vec::new();
        let text = self
            .bundle
            .format_pattern(pattern, Some(&args), &mut errors)
            .into_owned();
        debug_assert!(errors.is_empty(), "{}: {errors:?}", message.id);
        text
    }

    /// Whether there is a message of this id.
    #[must_use]
    pub fn has(&self, id: &str) -> bool {
        self.bundle.has_message(id)
    }

    /// All messages whose id starts so, without arguments, for pages.
    #[must_use]
    pub fn starting_with(&self, start: &str) -> serde_json::Value {
        let ids = ENGLISH
            .iter()
            .flat_map(|(_, text)| text.lines())
            .filter_map(|line| {
                let (id, _) = line.split_once(" =")?;
                (id.starts_with(start) && !id.contains(char::is_whitespace)).then(|| id.to_owned())
            });
        let said = ids.map(|id| {
            let text = self.say(&Message::new(id.clone()));
            (id, serde_json::Value::String(text))
        });
        serde_json::Value::Object(said.collect())
    }
}
