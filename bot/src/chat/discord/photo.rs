//! Photos that come with a line.

use std::time::Duration;

use serenity::all::Attachment;

use super::sender::Sender;
use crate::photo::{PHOTO_BYTES_MAX, PhotoProblem, cleaned};
use crate::store::PhotoRow;
use crate::words::Message;

/// What fetching one may take.
const WITHIN: Duration = Duration::from_secs(20);

/// Fetches a photo and takes from it all that is not the picture.
///
/// # Errors
/// What is to be told when it cannot be had or is none.
pub async fn fetch(sender: &Sender, photo: &Attachment) -> Result<PhotoRow, Message> {
    if usize::try_from(photo.size).map_or(true, |size| size > PHOTO_BYTES_MAX) {
        return Err(Message::new(PhotoProblem::TooLarge.told()));
    }
    let fetched = sender.fetch(&photo.url, PHOTO_BYTES_MAX, WITHIN).await;
    let bytes = fetched.map_err(|refused| {
        tracing::warn!(%refused, "a photo could not be fetched");
        Message::new("refuse-photo-fetch")
    })?;
    cleaned(bytes).map_err(|problem| Message::new(problem.told()))
}
