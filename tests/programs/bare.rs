//! A bare bot on the same library, for measures beside it: it answers every line with a constant.
//!
//! Its first argument is the platform's address, its second the token.

use serenity::all::{
    ClientBuilder, Command, Context, CreateCommand, CreateInteractionResponse,
    CreateInteractionResponseMessage, EventHandler, GatewayIntents, Interaction, Ready,
};
use serenity::async_trait;
use serenity::http::HttpBuilder;

struct Constant;

#[async_trait]
impl EventHandler for Constant {
    async fn ready(&self, context: Context, _: Ready) {
        let due = CreateCommand::new("due").description("What is due.");
        let set = Command::set_global_commands(&context.http, vec![due]).await;
        set.expect("the command is registered");
    }

    async fn interaction_create(&self, context: Context, interaction: Interaction) {
        if let Interaction::Command(command) = interaction {
            let message = CreateInteractionResponseMessage::new()
                .content("Nothing is due.")
                .allowed_mentions(serenity::all::CreateAllowedMentions::new());
            let response = CreateInteractionResponse::Message(message);
            // A reply that does not get through is missed by whoever measures.
            let _ = command.create_response(&context.http, response).await;
        }
    }
}

#[tokio::main(flavor = "multi_thread", worker_threads = 2)]
async fn main() {
    let arguments: Vec<String> = std::env::args().collect();
    let [_, address, token] = arguments.as_slice() else {
        panic!("it goes: bare ADDRESS TOKEN");
    };
    let http = HttpBuilder::new(token)
        .proxy(address)
        .ratelimiter_disabled(true)
        .build();
    let mut client = ClientBuilder::new_with_http(http, GatewayIntents::GUILDS)
        .event_handler(Constant)
        .await
        .expect("a client");
    client.start().await.expect("a connection");
}
