//! Which way a post goes: to the place's channel on the platform where it has one, else to the porch.

use std::sync::Arc;

use async_trait::async_trait;

use super::discord::posts::PlatformChat;
use super::porch::PorchChat;
use super::{Chat, ChatError, Outgoing};

/// The porch, and the platform for those places that are at home there.
pub struct Routes {
    /// The local chat.
    pub porch: Arc<PorchChat>,
    /// The group-chat platform.
    pub platform: Arc<PlatformChat>,
}

#[async_trait]
impl Chat for Routes {
    async fn send(&self, message: Outgoing<'_>) -> Result<String, ChatError> {
        let home = self.porch.store.server_of(message.place).await;
        let home = home.map_err(|error| ChatError::Passing {
            why: error.to_string(),
            wait_ms: None,
        })?;
        match home {
            Some(_) => self.platform.send(message).await,
            None => self.porch.send(message).await,
        }
    }

    async fn edit(&self, id: &str, message: Outgoing<'_>) -> Result<(), ChatError> {
        // A message is edited where it stands, wherever the place is at home by now.
        if id.contains('/') {
            self.platform.edit(id, message).await
        } else {
            self.porch.edit(id, message).await
        }
    }
}
