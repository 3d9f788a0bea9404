//! What happens over one connection: how many requests are under way, and when one last got on. Only
//! requests count as a sign of life; bytes that are none, such as the pings of HTTP/2, do not.

use std::pin::Pin;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::task::{Context, Poll, ready};
use std::time::Duration;

use axum::body::{Body, Bytes};
use hyper::body::{Body as HttpBody, Frame, Incoming, SizeHint};
use tokio::sync::Notify;
use tokio::time::Instant;

/// An answer is handed to the connection in pieces of at most so many bytes, so that it counts as under
/// way until nearly all of it has been sent.
const PIECE_BYTES: usize = 16 * 1024;

/// What a connection is doing. Those that are shed first are less.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Phase {
    /// No request is under way: none has come yet, or all are answered.
    Idle,
    /// Requests are under way, and the body of every one has yet to arrive.
    Receiving,
    /// A request is being answered.
    Answering,
}

/// How long a connection may go without progress.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Patience {
    /// While no request is under way.
    pub(crate) idle: Duration,
    /// While one is.
    pub(crate) stalled: Duration,
}

impl Patience {
    const fn with(self, phase: Phase) -> Duration {
        match phase {
            Phase::Idle => self.idle,
            Phase::Receiving | Phase::Answering => self.stalled,
        }
    }
}

/// Why a connection is to be closed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum GivenUp {
    /// Somebody else waits for its place.
    Shed,
    /// It has not got on for as long as it may.
    Stalled,
}

/// The activity of one connection, shared by all who serve it.
#[derive(Debug)]
pub(crate) struct Activity {
    state: Mutex<State>,
    shed: Notify,
}

#[derive(Debug)]
struct State {
    /// Requests that are not answered yet.
    requests: usize,
    /// How many of them are still waiting for their body.
    receiving: usize,
    /// When a request last began, ended or got on.
    progress: Instant,
    is_shed: bool,
}

impl Activity {
    /// The activity of a connection that was just accepted.
    pub(crate) fn new() -> Arc<Self> {
        Arc::new(Self {
            state: Mutex::new(State {
                requests: 0,
                receiving: 0,
                progress: Instant::now(),
                is_shed: false,
            }),
            shed: Notify::new(),
        })
    }

    /// What it is doing, and since when no request got on.
    pub(crate) fn phase(&self) -> (Phase, Instant) {
        let state = self.state();
        let phase = match *state {
            State { requests: 0, .. } => Phase::Idle,
            State {
                requests,
                receiving,
                ..
            } if receiving >= requests => Phase::Receiving,
            _ => Phase::Answering,
        };
        (phase, state.progress)
    }

    /// Asks for the connection to be closed.
    pub(crate) fn shed(&self) {
        self.state().is_shed = true;
        self.shed.notify_one();
    }

    /// Whether it was asked for.
    pub(crate) fn is_shed(&self) -> bool {
        self.state().is_shed
    }

    /// Completes when the connection is to be closed: it was shed, there was no request for as long as
    /// `patience` allows, or none got on.
    pub(crate) async fn until_given_up(&self, patience: Patience) -> GivenUp {
        let stalled = async {
            loop {
                let (phase, progress) = self.phase();
                let end = progress + patience.with(phase);
                if end <= Instant::now() {
                    return;
                }
                tokio::time::sleep_until(end).await;
            }
        };
        tokio::select! {
            () = self.shed.notified() => GivenUp::Shed,
            () = stalled => GivenUp::Stalled,
        }
    }

    fn change(&self, change: impl FnOnce(&mut State)) {
        let mut state = self.state();
        change(&mut state);
        state.progress = Instant::now();
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.state.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// A request under way, until it is dropped.
#[derive(Debug)]
pub(crate) struct RequestInProgress(Arc<Activity>);

impl RequestInProgress {
    /// A request begins.
    pub(crate) fn begin(activity: &Arc<Activity>) -> Self {
        activity.change(|state| state.requests += 1);
        Self(Arc::clone(activity))
    }
}

impl Drop for RequestInProgress {
    fn drop(&mut self) {
        self.0.change(|state| state.requests -= 1);
    }
}

/// A body that has not arrived, until it is dropped.
#[derive(Debug)]
struct BodyInProgress(Arc<Activity>);

impl Drop for BodyInProgress {
    fn drop(&mut self) {
        self.0.change(|state| state.receiving -= 1);
    }
}

/// The body of a request, whose arrival counts as progress.
#[derive(Debug)]
pub(crate) struct RequestBody {
    body: Incoming,
    in_progress: Option<BodyInProgress>,
}

impl RequestBody {
    pub(crate) fn new(body: Incoming, activity: &Arc<Activity>) -> Self {
        let in_progress = (!body.is_end_stream()).then(|| {
            activity.change(|state| state.receiving += 1);
            BodyInProgress(Arc::clone(activity))
        });
        Self { body, in_progress }
    }
}

impl HttpBody for RequestBody {
    type Data = Bytes;
    type Error = hyper::Error;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        cx: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, hyper::Error>>> {
        let frame = ready!(Pin::new(&mut self.body).poll_frame(cx));
        if !matches!(frame, Some(Ok(_))) || self.body.is_end_stream() {
            self.in_progress = None;
        } else if let Some(BodyInProgress(activity)) = &self.in_progress {
            activity.change(|_| {});
        }
        Poll::Ready(frame)
    }

    fn is_end_stream(&self) -> bool {
        self.body.is_end_stream()
    }

    fn size_hint(&self) -> SizeHint {
        self.body.size_hint()
    }
}

/// The body of an answer in small pieces, each of which counts as progress when it is taken.
#[derive(Debug)]
pub(crate) struct ResponseBody {
    body: Body,
    /// What the body has handed out and the connection has not taken yet.
    rest: Bytes,
    request: RequestInProgress,
}

impl ResponseBody {
    pub(crate) fn new(body: Body, request: RequestInProgress) -> Self {
        Self {
            body,
            rest: Bytes::new(),
            request,
        }
    }
}

impl HttpBody for ResponseBody {
    type Data = Bytes;
    type Error = axum::Error;

    fn poll_frame(
        mut self: Pin<&mut Self>,
        cx: &mut Context<'_>,
    ) -> Poll<Option<Result<Frame<Bytes>, axum::Error>>> {
        if self.rest.is_empty() {
            match ready!(Pin::new(&mut self.body).poll_frame(cx)) {
                Some(Ok(frame)) => match frame.into_data() {
                    Ok(data) => self.rest = data,
                    Err(trailers) => return Poll::Ready(Some(Ok(trailers))),
                },
                end => return Poll::Ready(end),
            }
        }
        self.request.0.change(|_| {});
        let length = self.rest.len().min(PIECE_BYTES);
        let piece = self.rest.split_to(length);
        Poll::Ready(Some(Ok(Frame::data(piece))))
    }

    fn is_end_stream(&self) -> bool {
        self.rest.is_empty() && self.body.is_end_stream()
    }

    fn size_hint(&self) -> SizeHint {
        let rest = u64::try_from(self.rest.len()).unwrap_or(u64::MAX);
        let body = self.body.size_hint();
        let mut hint = SizeHint::new();
        if let Some(upper) = body.upper() {
            hint.set_upper(upper + rest);
        }
        hint.set_lower(body.lower() + rest);
        hint
    }
}

#[cfg(test)]
mod tests {
    use http_body_util::BodyExt;

    use super::*;

    #[test]
    fn a_connection_is_idle_between_requests() {
        let activity = Activity::new();
        assert_eq!(activity.phase().0, Phase::Idle);
        let request = RequestInProgress::begin(&activity);
        assert_eq!(activity.phase().0, Phase::Answering);
        let another = RequestInProgress::begin(&activity);
        drop(request);
        assert_eq!(activity.phase().0, Phase::Answering);
        drop(another);
        assert_eq!(activity.phase().0, Phase::Idle);
    }

    #[tokio::test]
    async fn an_answer_is_under_way_until_its_last_piece_is_taken() {
        let activity = Activity::new();
        let content = Bytes::from(vec![7; PIECE_BYTES * 2 + 1]);
        let request = RequestInProgress::begin(&activity);
        let mut body = ResponseBody::new(Body::from(content.clone()), request);
        let length = u64::try_from(content.len()).ok();
        assert_eq!(body.size_hint().exact(), length);
        let mut taken = Vec::new();
        while let Some(Ok(frame)) = body.frame().await {
            assert_eq!(activity.phase().0, Phase::Answering);
            taken.extend(frame.into_data().unwrap_or_default());
            let left = content.len() - taken.len();
            assert_eq!(body.size_hint().exact(), u64::try_from(left).ok());
        }
        assert_eq!(taken, content);
        drop(body);
        assert_eq!(activity.phase().0, Phase::Idle);
    }

    #[tokio::test]
    async fn a_connection_waits_for_requests_and_for_answers_to_be_taken_in_its_own_time() {
        let activity = Activity::new();
        let patience = Patience {
            idle: Duration::from_millis(20),
            stalled: Duration::from_millis(60),
        };
        let (_, begin) = activity.phase();
        activity.until_given_up(patience).await;
        assert!(begin.elapsed() >= patience.idle);
        let request = RequestInProgress::begin(&activity);
        let (_, begin) = activity.phase();
        activity.until_given_up(patience).await;
        assert!(begin.elapsed() >= patience.stalled);
        assert!(!activity.is_shed());
        drop(request);
    }

    #[tokio::test]
    async fn what_is_shed_is_told_even_before_it_asks() {
        let activity = Activity::new();
        activity.shed();
        let long = Duration::from_mins(1);
        let patience = Patience {
            idle: long,
            stalled: long,
        };
        activity.until_given_up(patience).await;
        assert!(activity.is_shed());
    }
}
