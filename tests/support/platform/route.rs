//! Which operation a request asks for.

use axum::http::Method;

/// An operation of the REST API.
#[derive(Clone, Copy, Debug, Eq, Hash, Ord, PartialEq, PartialOrd)]
#[allow(missing_docs, reason = "the names are the operations")]
pub enum Route {
    Gateway,
    GatewayBot,
    Me,
    Application,
    ListCommands,
    SetCommands,
    Callback,
    FollowUp,
    GetResponse,
    EditResponse,
    DeleteResponse,
    CreateMessage,
    ListMessages,
    GetMessage,
    EditMessage,
    DeleteMessage,
    GetChannel,
    OpenDm,
    GetGuild,
    Unknown,
}

impl Route {
    /// Whether the bot's token is asked for, and the global limit counts it.
    pub(super) fn is_the_bots(self) -> bool {
        !matches!(
            self,
            Self::Callback
                | Self::FollowUp
                | Self::GetResponse
                | Self::EditResponse
                | Self::DeleteResponse
                | Self::Unknown
        )
    }
}

/// A request's operation with what its path names.
#[derive(Clone, Debug)]
pub(super) struct Target {
    pub(super) route: Route,
    /// The number the path names first: channel, guild, application, interaction.
    pub(super) major: u64,
    /// The interaction's token.
    pub(super) token: String,
    /// The message; none stands for the first answer (`@original`).
    pub(super) message: Option<u64>,
}

impl Target {
    /// Reads method and path, the path without the prefix `/api/v10`.
    pub(super) fn read(method: &Method, path: &str) -> Self {
        let parts: Vec<&str> = path.trim_start_matches('/').split('/').collect();
        let mut target = Self {
            route: Route::Unknown,
            major: parts.get(1).and_then(|part| part.parse().ok()).unwrap_or(0),
            token: String::new(),
            message: None,
        };
        if path.contains("//") || path.ends_with('/') {
            return target;
        }
        target.route = match (method.as_str(), parts.as_slice()) {
            ("GET", ["gateway"]) => Route::Gateway,
            ("GET", ["gateway", "bot"]) => Route::GatewayBot,
            ("GET", ["users", "@me"]) => Route::Me,
            ("GET", ["applications", "@me"]) => Route::Application,
            ("GET", ["applications", _, "commands"]) => Route::ListCommands,
            ("PUT", ["applications", _, "commands"]) => Route::SetCommands,
            ("POST", ["interactions", _, token, "callback"]) => {
                target.token = (*token).to_owned();
                Route::Callback
            }
            ("POST", ["webhooks", _, token]) => {
                target.token = (*token).to_owned();
                Route::FollowUp
            }
            (verb, ["webhooks", _, token, "messages", which]) => {
                target.token = (*token).to_owned();
                target.message = which.parse().ok();
                if *which != "@original" && target.message.is_none() {
                    return target;
                }
                verb_of(
                    verb,
                    Route::GetResponse,
                    Route::EditResponse,
                    Route::DeleteResponse,
                )
            }
            ("POST", ["channels", _, "messages"]) => Route::CreateMessage,
            ("GET", ["channels", _, "messages"]) => Route::ListMessages,
            (verb, ["channels", _, "messages", message]) => {
                target.message = message.parse().ok();
                if target.message.is_none() {
                    return target;
                }
                verb_of(verb, Route::GetMessage, Route::EditMessage, Route::DeleteMessage)
            }
            ("GET", ["channels", _]) => Route::GetChannel,
            ("POST", ["users", "@me", "channels"]) => Route::OpenDm,
            ("GET", ["guilds", _]) => Route::GetGuild,
            _ => Route::Unknown,
        };
        target
    }

    /// What shares one limit.
    pub(super) fn bucket(&self) -> String {
        format!("{:?}:{}:{}", self.route, self.major, self.token)
    }
}

fn verb_of(verb: &str, get: Route, edit: Route, delete: Route) -> Route {
    match verb {
        "GET" => get,
        "PATCH" => edit,
        "DELETE" => delete,
        _ => Route::Unknown,
    }
}
