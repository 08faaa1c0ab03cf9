//! Native commands of the platform, made from the table of lines; and the line that a command says.

use serenity::builder::{CreateCommand, CreateCommandOption};
use serenity::model::application::{
    CommandData, CommandDataOption, CommandDataOptionValue, CommandOptionType, CommandType,
    InstallationContext, InteractionContext,
};
use serenity::model::channel::ChannelType;
use serenity::model::id::{AttachmentId, ChannelId, UserId};
use sha2::{Digest, Sha256};

use crate::lines;
use crate::lines::table::{ArgSpec, Kind, LINES, LineSpec, Need, SubSpec};
use crate::words::{Message, Words};

/// The option by which a photo comes with a line.
pub const PHOTO: &str = "photo";

/// Lines that take a photo.
const WITH_PHOTO: [&str; 2] = ["did", "saw"];

/// The most values that the platform lists by itself; more than that are offered while someone types.
const CHOICES_MAX: usize = 25;

/// The longest description, in characters.
const DESCRIPTION_MAX: usize = 100;

/// A command of the platform as a line.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NativeLine {
    /// The line.
    pub line: &'static LineSpec,
    /// Its subcommand.
    pub sub: Option<&'static SubSpec>,
    /// Its arguments by name, each as a person would type it, in the order in which they were given.
    pub given: Vec<(&'static str, String)>,
    /// The photo that came with it.
    pub photo: Option<AttachmentId>,
    /// The member who was chosen, where the line has such an argument.
    pub member: Option<UserId>,
    /// The channel that was chosen, where the line has such an argument.
    pub channel: Option<ChannelId>,
}

impl NativeLine {
    /// The line as a person would type it.
    #[must_use]
    pub fn typed(&self) -> String {
        let given: Vec<(&str, &str)> = self
            .given
            .iter()
            .map(|(name, value)| (*name, value.as_str()))
            .collect();
        lines::write(self.line, self.sub, &given)
    }

    /// An argument, as it was given.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&str> {
        let found = self.given.iter().find(|(one, _)| *one == name);
        found.map(|(_, value)| value.as_str())
    }
}

/// Why a command is no line: the platform knows an older or a newer table than this process.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum Unknown {
    /// There is no such line.
    #[error("there is no line {0}")]
    Line(String),
    /// The line has no such subcommand, or none where it needs one.
    #[error("the line {line} has no subcommand {sub:?}")]
    Sub {
        /// The line.
        line: &'static str,
        /// What stood for its subcommand.
        sub: Option<String>,
    },
    /// The line has no such option, or not of this kind.
    #[error("the line {line} has no option {option} of this kind")]
    Option {
        /// The line.
        line: &'static str,
        /// The option.
        option: String,
    },
}

/// One command for each line, in the order of the table.
pub fn commands(words: &Words) -> Vec<CreateCommand> {
    LINES.iter().map(|line| command(line, words)).collect()
}

fn command(line: &LineSpec, words: &Words) -> CreateCommand {
    let mut command = CreateCommand::new(line.name)
        .kind(CommandType::ChatInput)
        .description(description(words, line.help(None)))
        .contexts(vec![InteractionContext::Guild])
        .integration_types(vec![InstallationContext::Guild]);
    for (locale, name) in words.native(&format!("native-{}", line.name)) {
        command = command.name_localized(locale, name);
    }
    for sub in line.subs {
        let kind = CommandOptionType::SubCommand;
        let text = description(words, line.help(Some(sub.name)));
        let mut option = CreateCommandOption::new(kind, sub.name, text);
        for (locale, name) in words.native(&format!("native-sub-{}", sub.name)) {
            option = option.name_localized(locale, name);
        }
        for inner in options(line, sub.args, words) {
            option = option.add_sub_option(inner);
        }
        command = command.add_option(option);
    }
    let own = options(line, line.args, words);
    own.into_iter().fold(command, CreateCommand::add_option)
}

/// The options of a line or a subcommand, those first that have to stand.
fn options(line: &LineSpec, args: &[ArgSpec], words: &Words) -> Vec<CreateCommandOption> {
    // A line of which the name may stand alone demands nothing.
    let demands = |arg: &ArgSpec| arg.need == Need::Must && !(line.alone && line.subs.is_empty());
    let (first, rest): (Vec<&ArgSpec>, Vec<&ArgSpec>) = args.iter().partition(|arg| demands(arg));
    let mut all: Vec<CreateCommandOption> = first
        .into_iter()
        .chain(rest)
        .map(|arg| option(arg, demands(arg), words))
        .collect();
    if WITH_PHOTO.contains(&line.name) {
        let text = description(words, "arg-photo".to_owned());
        let photo = CreateCommandOption::new(CommandOptionType::Attachment, PHOTO, text);
        all.push(localized(photo, PHOTO, words));
    }
    all
}

fn option(arg: &ArgSpec, required: bool, words: &Words) -> CreateCommandOption {
    let text = description(words, arg.help());
    let option = CreateCommandOption::new(option_kind(arg.kind), arg.name, text).required(required);
    let option = localized(option, arg.name, words);
    match arg.kind {
        Kind::Choice(choices) if choices.len() <= CHOICES_MAX => {
            choices.iter().fold(option, |option, choice| {
                option.add_string_choice(*choice, *choice)
            })
        }
        Kind::Number => option.min_int_value(0),
        Kind::Channel => option.channel_types(vec![ChannelType::Text]),
        Kind::Switch | Kind::Flag | Kind::Member => option,
        kind if is_offered(kind) => option.set_autocomplete(true),
        kind => option.max_length(length_max(kind)),
    }
}

fn localized(option: CreateCommandOption, name: &str, words: &Words) -> CreateCommandOption {
    let names = words.native(&format!("native-option-{name}"));
    names.into_iter().fold(option, |option, (locale, name)| {
        option.name_localized(locale, name)
    })
}

/// What the platform asks for, for a kind of argument.
fn option_kind(kind: Kind) -> CommandOptionType {
    match kind {
        Kind::Switch | Kind::Flag => CommandOptionType::Boolean,
        Kind::Number => CommandOptionType::Integer,
        Kind::Channel => CommandOptionType::Channel,
        Kind::Member => CommandOptionType::User,
        _ => CommandOptionType::String,
    }
}

/// Whether values are offered while someone types: those that [`lines::offers`] can list.
fn is_offered(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::Duty
            | Kind::Spot
            | Kind::Turn(_)
            | Kind::Day
            | Kind::Sighting
            | Kind::Carer
            | Kind::Round
            | Kind::Vessel
            | Kind::OwnDuty
            | Kind::Zone
            | Kind::Line
            | Kind::Fraction
            | Kind::Gravity
            | Kind::Choice(_)
    )
}

/// The longest text that is taken, in characters.
fn length_max(kind: Kind) -> u16 {
    match kind {
        Kind::Rest => 1_500,
        Kind::Name | Kind::Text => 40,
        _ => 200,
    }
}

/// A description, cut at a word where it is too long.
fn description(words: &Words, id: String) -> String {
    let text = words.say(&Message::new(id));
    if text.chars().count() <= DESCRIPTION_MAX {
        return text;
    }
    let kept: String = text.chars().take(DESCRIPTION_MAX - 1).collect();
    let kept = kept.rsplit_once(' ').map_or(kept.as_str(), |(whole, _)| whole);
    format!("{kept}…")
}

/// What tells one set of commands from another: they are sent to the platform again only when it changes.
///
/// # Panics
/// Never: commands become JSON.
#[must_use]
pub fn fingerprint(commands: &[CreateCommand]) -> String {
    // By way of a value, whose keys are in order: localised names are kept in none.
    let value = serde_json::to_value(commands).expect("commands become JSON");
    let digest = Sha256::digest(value.to_string());
    digest.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// The line that a command says. Text that is still being typed counts as given.
///
/// # Errors
/// [`Unknown`] when the table has no such line, subcommand or option.
pub fn line_of(data: &CommandData) -> Result<NativeLine, Unknown> {
    let line = LINES
        .iter()
        .find(|line| line.name == data.name)
        .ok_or_else(|| Unknown::Line(data.name.clone()))?;
    let (sub, options) = match (line.subs, data.options.as_slice()) {
        ([], options) => (None, options),
        (_, options) => {
            let first = options.first();
            let unknown = || Unknown::Sub {
                line: line.name,
                sub: first.map(|option| option.name.clone()),
            };
            let option = first.ok_or_else(unknown)?;
            let CommandDataOptionValue::SubCommand(inner) = &option.value else {
                return Err(unknown());
            };
            (
                Some(line.sub(&option.name).ok_or_else(unknown)?),
                inner.as_slice(),
            )
        }
    };
    let mut native = NativeLine {
        line,
        sub,
        given: Vec::new(),
        photo: None,
        member: None,
        channel: None,
    };
    for option in options {
        take(&mut native, option)?;
    }
    Ok(native)
}

/// Takes one option up.
fn take(native: &mut NativeLine, option: &CommandDataOption) -> Result<(), Unknown> {
    let unknown = || Unknown::Option {
        line: native.line.name,
        option: option.name.clone(),
    };
    if let (PHOTO, CommandDataOptionValue::Attachment(id)) = (option.name.as_str(), &option.value)
        && WITH_PHOTO.contains(&native.line.name)
    {
        native.photo = Some(*id);
        return Ok(());
    }
    let args = native.sub.map_or(native.line.args, |sub| sub.args);
    let arg = args
        .iter()
        .find(|arg| arg.name == option.name)
        .ok_or_else(unknown)?;
    let value = match (arg.kind, &option.value) {
        // A flag that is not set says nothing; a switch that is off says so.
        (Kind::Flag, CommandDataOptionValue::Boolean(false)) => return Ok(()),
        (Kind::Flag, CommandDataOptionValue::Boolean(true)) => "yes".to_owned(),
        (Kind::Switch, CommandDataOptionValue::Boolean(on)) => if *on { "yes" } else { "no" }.to_owned(),
        (Kind::Number, CommandDataOptionValue::Integer(number)) => number.to_string(),
        (Kind::Channel, CommandDataOptionValue::Channel(id)) => {
            native.channel = Some(*id);
            format!("<#{id}>")
        }
        (Kind::Member, CommandDataOptionValue::User(id)) => {
            native.member = Some(*id);
            format!("<@{id}>")
        }
        (
            kind,
            CommandDataOptionValue::String(value) | CommandDataOptionValue::Autocomplete { value, .. },
        ) if option_kind(kind) == CommandOptionType::String => value.clone(),
        _ => return Err(unknown()),
    };
    // Nothing but spaces is nothing given.
    if !value.trim().is_empty() {
        native.given.push((arg.name, value));
    }
    Ok(())
}
