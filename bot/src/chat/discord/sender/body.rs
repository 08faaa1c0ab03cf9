//! A request's body that notes when it is taken: before that, nothing was sent.

use std::pin::Pin;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::task::{Context, Poll};

use http_body::{Body, Frame, SizeHint};

/// Whether a request may have left.
#[derive(Clone, Debug, Default)]
pub(super) struct Left(Arc<AtomicBool>);

impl Left {
    pub(super) fn is_set(&self) -> bool {
        self.0.load(Ordering::Acquire)
    }
}

/// A body that notes when it is taken.
pub(super) struct Noted {
    inner: reqwest::Body,
    left: Left,
}

impl Noted {
    pub(super) fn new(bytes: Vec<u8>, left: Left) -> Self {
        let inner = reqwest::Body::from(bytes);
        Self { inner, left }
    }
}

impl Body for Noted {
    type Data = <reqwest::Body as Body>::Data;
    type Error = reqwest::Error;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Self::Data>, Self::Error>>> {
        self.left.0.store(true, Ordering::Release);
        Pin::new(&mut self.inner).poll_frame(context)
    }

    fn is_end_stream(&self) -> bool {
        self.inner.is_end_stream()
    }

    fn size_hint(&self) -> SizeHint {
        self.inner.size_hint()
    }
}
