//! The platform's double: what it holds of a client, and that each of its judges can say no.

use reqwest::header::HeaderMap;
use reqwest::{Method, RequestBuilder};
use serde_json::{Value, json};
use wrackline_tests::platform::{ChannelId, ChannelKind, Double, DoubleConfig, GuildId, UserId};

mod answers;
mod client;
mod gateway;
mod judges;
mod limits;
mod people;
mod rest;
mod trouble;

/// A double with a guild, a channel and a person, and a client with the bot's token.
struct Scene {
    double: Double,
    guild: GuildId,
    channel: ChannelId,
    person: UserId,
    http: reqwest::Client,
}

/// What came back.
struct Came {
    status: u16,
    headers: HeaderMap,
    body: Value,
}

impl Came {
    fn code(&self) -> (u16, u64) {
        (self.status, self.body["code"].as_u64().unwrap_or_default())
    }

    fn header(&self, name: &str) -> &str {
        let value = self.headers.get(name).and_then(|value| value.to_str().ok());
        value.unwrap_or_default()
    }

    fn id(&self) -> String {
        self.body["id"].as_str().expect("an id").to_owned()
    }
}

impl Scene {
    async fn new() -> Self {
        Self::with(DoubleConfig::default()).await
    }

    async fn with(config: DoubleConfig) -> Self {
        let double = Double::start(config).await.expect("a double");
        let guild = double.guild("Wrack Line Hall");
        Self {
            channel: double.channel(guild, ChannelKind::Text, "pools"),
            person: double.member(guild, "Maren Example"),
            guild,
            double,
            http: reqwest::Client::new(),
        }
    }

    fn request(&self, method: Method, path: &str) -> RequestBuilder {
        let url = format!("{}/api/v10{path}", self.double.url());
        let token = format!("Bot {}", self.double.token());
        self.http.request(method, url).header("authorization", token)
    }

    async fn get(&self, path: &str) -> Came {
        came(self.request(Method::GET, path)).await
    }

    async fn delete(&self, path: &str) -> Came {
        came(self.request(Method::DELETE, path)).await
    }

    async fn send(&self, method: Method, path: &str, body: &Value) -> Came {
        came(self.request(method, path).json(body)).await
    }

    async fn post(&self, path: &str, body: &Value) -> Came {
        self.send(Method::POST, path, body).await
    }

    /// Writes to the channel.
    async fn write(&self, content: &str, nonce: &str) -> Came {
        let path = format!("/channels/{}/messages", self.channel);
        self.post(&path, &said(content, nonce)).await
    }
}

async fn came(request: RequestBuilder) -> Came {
    let response = request.send().await.expect("an answer");
    let (status, headers) = (response.status().as_u16(), response.headers().clone());
    let text = response.text().await.expect("a body");
    let body = serde_json::from_str(&text).unwrap_or(Value::Null);
    Came {
        status,
        headers,
        body,
    }
}

/// A message to a channel as the house writes them.
fn said(content: &str, nonce: &str) -> Value {
    json!({
        "content": content,
        "nonce": nonce,
        "enforce_nonce": true,
        "allowed_mentions": {"parse": []},
    })
}

/// A command with an option of each kind that the tests use.
fn commands() -> Value {
    json!([
        {
            "name": "did",
            "description": "Log what you did",
            "options": [
                {"type": 3, "name": "what", "description": "What you did", "required": true, "choices": [
                    {"name": "Top-up", "value": "top-up"},
                    {"name": "Scrub", "value": "scrub"},
                ]},
                {"type": 3, "name": "pool", "description": "Which pool", "autocomplete": true},
                {"type": 4, "name": "litres", "description": "How much", "min_value": 1, "max_value": 50},
                {"type": 6, "name": "who", "description": "Who did it"},
                {"type": 11, "name": "photo", "description": "A photo of it"},
            ],
        },
        {
            "name": "pool",
            "description": "The pools",
            "default_member_permissions": "32",
            "options": [
                {"type": 1, "name": "add", "description": "A new pool", "options": [
                    {"type": 3, "name": "name", "description": "Its name", "required": true},
                ]},
            ],
        },
    ])
}
