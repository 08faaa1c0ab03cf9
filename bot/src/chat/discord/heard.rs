//! What people do on the platform: lines, presses, texts that were asked for, and lines that are being typed.

use std::sync::Arc;

use serenity::all::{
    ActionRow, ActionRowComponent, ApplicationId, Attachment, ChannelType, CommandData,
    CommandDataOptionValue, CommandInteraction, ComponentInteraction, ComponentInteractionDataKind,
    CreateActionRow, CreateInputText, CreateModal, InputTextStyle, Interaction, InteractionId, Member,
    ModalInteraction,
};

use super::commands::{NativeLine, line_of};
use super::ids::number;
use super::photo;
use super::posts::PlatformChat;
use super::private::place_in;
use super::reply::{Asked, Replies};
use super::rows::{MENU, code_of};
use super::text::cut;
use crate::chat::blocks::Answer;
use crate::house::{House, Input, LinkRequest, Said};
use crate::msg;
use crate::store::{PhotoRow, PlaceId, StoreError};

/// Letters of a form's title and of a field's label.
const TITLE_CHARS_MAX: usize = 45;
/// Letters of what is written into a field.
const FIELD_CHARS_MAX: u16 = 500;
/// The name of the one field of a form.
const FIELD: &str = "text";

/// Who does something, and where.
struct Person {
    server: Option<i64>,
    account: i64,
    name: String,
    manages: bool,
}

impl Person {
    fn of(server: Option<u64>, member: Option<&Member>, account: u64) -> Self {
        let permissions = member.and_then(|member| member.permissions).unwrap_or_default();
        Self {
            server: server.map(number),
            account: number(account),
            name: member.map_or(String::new(), |member| member.display_name().to_owned()),
            manages: permissions.manage_guild() || permissions.administrator(),
        }
    }
}

/// What hears people on the platform.
pub struct Ears {
    /// Where lines are heard.
    pub house: Arc<House>,
    /// Where posts go.
    pub chat: Arc<PlatformChat>,
}

impl Ears {
    /// Hears one thing and answers it.
    pub async fn hear(&self, interaction: Interaction) {
        match interaction {
            Interaction::Command(command) => self.command(command).await,
            Interaction::Autocomplete(command) => self.typing(command).await,
            Interaction::Component(component) => self.press(component).await,
            Interaction::Modal(modal) => self.written(modal).await,
            _ => {}
        }
    }

    fn replies(&self) -> Replies<'_> {
        Replies {
            sender: &self.chat.sender,
            words: &self.house.words,
        }
    }

    async fn command(&self, command: CommandInteraction) {
        let asked = asked(command.id, &command.token, command.application_id);
        let server = command.guild_id.map(|id| id.get());
        let person = Person::of(server, command.member.as_deref(), command.user.id.get());
        let line = match line_of(&command.data) {
            Ok(line) => line,
            Err(unknown) => {
                // A definition of an earlier version, still on its way out.
                tracing::warn!(%unknown, "a line that is not of this version");
                let answer = self.house.refusal(&msg!("refuse-native"));
                return self.replies().answer(&asked, true, async { answer }).await;
            }
        };
        let id = id_of(asked.id);
        if line.line.name == "place" && line.sub.is_some_and(|sub| sub.name == "link") {
            let heard = self.link(&person, &line, &command.data, id);
            return self.replies().answer(&asked, false, heard).await;
        }
        let heard = self.line(&person, line, &command.data, id);
        self.replies().answer(&asked, false, heard).await;
    }

    /// A server gets its place. Its channel is greeted only when nothing else stands against it.
    async fn link(&self, person: &Person, line: &NativeLine, data: &CommandData, id: String) -> Answer {
        let (Some(server), Some(channel)) = (person.server, line.channel) else {
            return self.house.refusal(&msg!("refuse-link-channel"));
        };
        let kind = data.resolved.channels.get(&channel).map(|channel| channel.kind);
        let channel = number(channel.get());
        let request = LinkRequest {
            server,
            channel,
            account: person.account,
            name: person.name.clone(),
            manages: person.manages,
            id,
            zone: line.get("zone").map(str::to_owned),
            code: line.get("code").map(str::to_owned),
        };
        if let Some(answer) = self.house.link_hindered(&request).await {
            return answer;
        }
        if kind.is_some_and(|kind| kind != ChannelType::Text) {
            return self.house.refusal(&msg!("refuse-link-kind"));
        }
        if let Err(trouble) = self.chat.greet(channel, &request.id).await {
            return self.house.refusal(&trouble);
        }
        let answer = self.house.link(request).await;
        if answer.ok {
            self.chat.reopen(channel);
            // The greeting came through, so the place's channel takes posts.
            if let Ok(Some(place)) = self.house.shelf.store().place_of_server(server).await {
                self.chat.all_well(place).await;
            }
        }
        answer
    }

    async fn line(&self, person: &Person, line: NativeLine, data: &CommandData, id: String) -> Answer {
        let (place, carer) = match self.carer(person).await {
            Ok(found) => found,
            Err(answer) => return *answer,
        };
        let sent: Option<&Attachment> = line.photo.and_then(|id| data.resolved.attachments.get(&id));
        let photo = match sent {
            None => None,
            Some(sent) => match photo::fetch(&self.chat.sender, sent).await {
                Ok(photo) => Some(photo),
                Err(refused) => return self.house.refusal(&refused),
            },
        };
        match self.typed(place, line, data).await {
            Ok(text) => self.said(place, carer, id, Input::Line(text), photo).await,
            Err(error) => self.house.not_saved(&error),
        }
    }

    /// A line as it would be typed. A person who joins is called as on the server, unless another name was said.
    async fn typed(
        &self,
        place: PlaceId,
        mut line: NativeLine,
        data: &CommandData,
    ) -> Result<String, StoreError> {
        let joins = line.line.name == "carer" && line.sub.is_some_and(|sub| sub.name == "add");
        if let Some(member) = line.member.filter(|_| joins && line.get("name").is_none()) {
            let nick = data
                .resolved
                .members
                .get(&member)
                .and_then(|one| one.nick.clone());
            let user = data.resolved.users.get(&member);
            let name = nick.or_else(|| user.map(|user| user.display_name().to_owned()));
            let name = self
                .house
                .fitting_name(place, name.as_deref().unwrap_or_default())
                .await?;
            line.given.push(("name", name));
        }
        Ok(line.typed())
    }

    async fn said(
        &self,
        place: PlaceId,
        carer: u32,
        id: String,
        input: Input,
        photo: Option<PhotoRow>,
    ) -> Answer {
        let said = Said {
            place,
            carer,
            id,
            input,
            photo,
        };
        self.house.hear(said).await
    }

    /// The place of a server and the carer of an account, or what a stranger is told.
    async fn carer(&self, person: &Person) -> Result<(PlaceId, u32), Box<Answer>> {
        let found = async {
            let store = self.house.shelf.store();
            let Some(server) = person.server else {
                return Ok(Err(self.house.refusal(&msg!("refuse-no-server"))));
            };
            let Some(place) = store.place_of_server(server).await? else {
                return Ok(Err(self.house.unlinked()));
            };
            match store.carer_of(place, person.account).await? {
                Some(carer) => Ok(Ok((place, carer))),
                None => Ok(Err(self.house.stranger(place).await)),
            }
        };
        let found: Result<_, StoreError> = found.await;
        found
            .unwrap_or_else(|error| Err(self.house.not_saved(&error)))
            .map_err(Box::new)
    }

    /// Who pressed: on a server its carer, in private that of the place which the press names.
    async fn presser(&self, person: &Person, named: Option<PlaceId>) -> Result<(PlaceId, u32), Box<Answer>> {
        let Some(place) = named.filter(|_| person.server.is_none()) else {
            return self.carer(person).await;
        };
        match self.house.shelf.store().carer_of(place, person.account).await {
            Ok(Some(carer)) => Ok((place, carer)),
            Ok(None) => Err(Box::new(self.house.refusal(&msg!("refuse-no-server")))),
            Err(error) => Err(Box::new(self.house.not_saved(&error))),
        }
    }

    async fn typing(&self, command: CommandInteraction) {
        let asked = asked(command.id, &command.token, command.application_id);
        let server = command.guild_id.map(|id| id.get());
        let person = Person::of(server, command.member.as_deref(), command.user.id.get());
        let offers = match (
            self.carer(&person).await,
            line_of(&command.data),
            typing_in(&command.data),
        ) {
            (Ok((place, carer)), Ok(line), Some((option, typed))) => {
                let sub = line.sub.map(|sub| sub.name);
                self.house
                    .offers(place, carer, line.line.name, sub, option, typed)
                    .await
            }
            _ => Vec::new(),
        };
        self.replies().offer(&asked, offers).await;
    }

    async fn press(&self, component: ComponentInteraction) {
        let asked = asked(component.id, &component.token, component.application_id);
        let server = component.guild_id.map(|id| id.get());
        let person = Person::of(server, component.member.as_ref(), component.user.id.get());
        let code = match &component.data.kind {
            ComponentInteractionDataKind::StringSelect { values } => {
                values.first().map_or("", String::as_str)
            }
            _ => code_of(&component.data.custom_id),
        };
        // A menu of an earlier version has no value that is known here; it is refused like any other odd press.
        let code = if code.starts_with(MENU) { "" } else { code };
        let whole = code;
        let (named, code) = place_in(whole);
        let found = match self.presser(&person, named).await {
            Ok(found) => found,
            Err(answer) => return self.replies().answer(&asked, true, async { *answer }).await,
        };
        let (place, carer) = found;
        if let Some(question) = self.house.question(code)
            // Whoever is not heard any more is told so before they write anything.
            && self.house.ended(place, carer).await.is_none()
        {
            return self.replies().ask(&asked, form(whole, &question)).await;
        }
        let input = Input::Press {
            code: code.to_owned(),
            text: None,
        };
        let heard = self.said(place, carer, id_of(asked.id), input, None);
        self.replies().answer(&asked, true, heard).await;
    }

    async fn written(&self, modal: ModalInteraction) {
        let asked = asked(modal.id, &modal.token, modal.application_id);
        let server = modal.guild_id.map(|id| id.get());
        let person = Person::of(server, modal.member.as_ref(), modal.user.id.get());
        let (named, code) = place_in(&modal.data.custom_id);
        let (place, carer) = match self.presser(&person, named).await {
            Ok(found) => found,
            Err(answer) => return self.replies().answer(&asked, true, async { *answer }).await,
        };
        let input = Input::Press {
            code: code.to_owned(),
            text: text_of(&modal.data.components),
        };
        let heard = self.said(place, carer, id_of(asked.id), input, None);
        self.replies().answer(&asked, true, heard).await;
    }
}

fn asked(id: InteractionId, token: &str, application: ApplicationId) -> Asked {
    Asked {
        id: id.get(),
        token: token.to_owned(),
        application: application.get(),
    }
}

/// The id under which a thing is heard: the platform gives each a number of its own.
fn id_of(interaction: u64) -> String {
    format!("platform:{interaction}")
}

/// A form with one field; its name is the code that comes back.
fn form(code: &str, question: &str) -> CreateModal {
    let field = CreateInputText::new(InputTextStyle::Short, cut(question, TITLE_CHARS_MAX), FIELD)
        .max_length(FIELD_CHARS_MAX)
        .required(true);
    CreateModal::new(code, cut(question, TITLE_CHARS_MAX)).components(vec![CreateActionRow::InputText(field)])
}

fn text_of(rows: &[ActionRow]) -> Option<String> {
    let mut parts = rows.iter().flat_map(|row| &row.components);
    parts.find_map(|part| match part {
        ActionRowComponent::InputText(field) if field.custom_id == FIELD => field.value.clone(),
        _ => None,
    })
}

/// The option that is being typed, and what stands in it so far.
fn typing_in(data: &CommandData) -> Option<(&str, &str)> {
    let inner = data.options.iter().flat_map(|option| match &option.value {
        CommandDataOptionValue::SubCommand(inner) => inner.as_slice(),
        _ => std::slice::from_ref(option),
    });
    inner.into_iter().find_map(|option| match &option.value {
        CommandDataOptionValue::Autocomplete { value, .. } => Some((option.name.as_str(), value.as_str())),
        _ => None,
    })
}
