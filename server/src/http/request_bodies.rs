//! Reads the bodies of requests. How many arrive at once is limited, and with it the memory that they
//! take; of too many the one that has been arriving the longest is given up, so slow callers cannot shut others out.

use std::collections::BTreeMap;
use std::future::Future;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use axum::body::{Body, Bytes, to_bytes};
use http_body_util::LengthLimitError;
use tokio::sync::Notify;

/// Bodies that may be arriving at once. Together with their largest size this limits their memory.
const MAX_ARRIVING: usize = 1024;

/// Why there is no body.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BodyError {
    /// It is longer than it may be.
    TooLong,
    /// It broke off.
    BrokenOff,
    /// It took its time while too many others were arriving.
    Shed,
}

/// All bodies that are arriving. Clones share them.
#[derive(Debug, Clone)]
pub struct RequestBodies {
    most: usize,
    arriving: Arc<Mutex<Arriving>>,
}

#[derive(Debug, Default)]
struct Arriving {
    next_number: u64,
    /// The ones that came earlier first.
    bodies: BTreeMap<u64, Arc<Notify>>,
}

impl Default for RequestBodies {
    fn default() -> Self {
        Self::with_limit(MAX_ARRIVING)
    }
}

impl RequestBodies {
    fn with_limit(most: usize) -> Self {
        let arriving = Arc::default();
        Self { most, arriving }
    }

    /// Reads a body of at most so many bytes.
    ///
    /// # Errors
    /// When it is longer, breaks off, or is given up for others.
    pub async fn read(&self, body: Body, longest: usize) -> Result<Bytes, BodyError> {
        self.unless_shed(async {
            to_bytes(body, longest).await.map_err(|error| {
                if is_too_long(&error) {
                    BodyError::TooLong
                } else {
                    BodyError::BrokenOff
                }
            })
        })
        .await
    }

    async fn unless_shed<T>(
        &self,
        reading: impl Future<Output = Result<T, BodyError>>,
    ) -> Result<T, BodyError> {
        let place = self.arrive();
        tokio::select! {
            biased;
            read = reading => read,
            () = place.shed.notified() => Err(BodyError::Shed),
        }
    }

    /// Takes a place, and the place of another where there are too many.
    fn arrive(&self) -> ArrivingBody<'_> {
        let mut arriving = self.arriving();
        if arriving.bodies.len() >= self.most
            && let Some((_, longest)) = arriving.bodies.pop_first()
        {
            longest.notify_one();
        }
        let number = arriving.next_number;
        arriving.next_number += 1;
        let shed = Arc::new(Notify::new());
        arriving.bodies.insert(number, Arc::clone(&shed));
        ArrivingBody {
            bodies: self,
            number,
            shed,
        }
    }

    fn arriving(&self) -> MutexGuard<'_, Arriving> {
        self.arriving.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// A body that is arriving, until it is dropped.
#[derive(Debug)]
struct ArrivingBody<'a> {
    bodies: &'a RequestBodies,
    number: u64,
    shed: Arc<Notify>,
}

impl Drop for ArrivingBody<'_> {
    fn drop(&mut self) {
        self.bodies.arriving().bodies.remove(&self.number);
    }
}

/// The limit's error sits somewhere below the wrappers that the body has passed through.
fn is_too_long(error: &axum::Error) -> bool {
    let mut cause: Option<&dyn std::error::Error> = Some(error);
    while let Some(error) = cause {
        if error.is::<LengthLimitError>() {
            return true;
        }
        cause = error.source();
    }
    false
}

#[cfg(test)]
mod tests {
    use std::future::{pending, ready};
    use std::time::Duration;

    use tokio::time::timeout;

    use super::*;

    #[tokio::test]
    async fn of_too_many_the_longest_arriving_is_given_up() {
        let bodies = RequestBodies::with_limit(2);
        let never = || bodies.unless_shed(pending::<Result<(), _>>());
        let (mut first, mut second) = (Box::pin(never()), Box::pin(never()));
        let soon = Duration::from_millis(5);
        assert!(timeout(soon, &mut first).await.is_err());
        assert!(timeout(soon, &mut second).await.is_err());
        assert_eq!(bodies.unless_shed(ready(Ok(3))).await, Ok(3));
        let shed = timeout(Duration::from_secs(5), &mut first).await;
        assert_eq!(shed, Ok(Err(BodyError::Shed)));
        assert!(timeout(soon, &mut second).await.is_err());
        drop((first, second));
        assert!(bodies.arriving().bodies.is_empty());
    }

    #[tokio::test]
    async fn a_body_is_read_up_to_its_limit() {
        let bodies = RequestBodies::default();
        let read = |longest| bodies.read(Body::from("twelve bytes"), longest);
        assert_eq!(read(12).await.as_deref(), Ok(b"twelve bytes".as_slice()));
        assert_eq!(read(11).await, Err(BodyError::TooLong));
    }
}
