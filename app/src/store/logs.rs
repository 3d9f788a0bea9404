//! The log of a sock in chunks: read with every checksum looked at, written at its end only.

use evenloop_engine::journal::{CHUNK_EVENTS, ChunkError, Event, follows, read_chunk, write_chunk};
use evenloop_engine::sort::sort;

use super::error::{StoreError, StoredPart};
use super::handle::Store;
use super::keys;
use super::operation::StoredChange;
use super::pair::PairId;

/// A chunk as it lies there: key, number and text.
pub(super) type Chunk = (String, u32, String);

/// How many chunks that are not there end a log. What lies behind fewer of them was lost in the middle and is noticed:
/// so many hold more than a thousand events.
const LOST_IN_A_ROW: u32 = 17;

/// What could be read of a log, and what went wrong after it.
pub(super) struct LogRead {
    /// Every event before the first that could not be read.
    pub(super) events: Vec<Event>,
    /// Keys of what comes after, none of which can be trusted.
    pub(super) lost: Vec<String>,
    /// Why, when something is lost.
    pub(super) trouble: Option<StoreError>,
}

/// Reads chunks, in any order. Pure.
pub(super) fn read(sock: u8, mut chunks: Vec<Chunk>) -> LogRead {
    sort(&mut chunks, |(_, a, _), (_, b, _)| a < b);
    let mut read = LogRead {
        events: Vec::new(),
        lost: Vec::new(),
        trouble: None,
    };
    let mut before: Option<String> = None;
    for (expected, (key, index, text)) in (0..).zip(chunks) {
        if read.trouble.is_none() {
            // Only the last chunk may have room left, and none may be missing in between.
            let whole = read.events.len() == CHUNK_EVENTS * index as usize;
            let found = if index == expected && whole {
                read_chunk(index, &text)
            } else {
                Err(ChunkError::WrongPlace)
            };
            let (what, kept) = (StoredPart::Log(sock), read.events.len());
            read.trouble = Some(match found {
                // A longer one reads well, but nothing could be added to it.
                Ok(events)
                    if events.len() <= CHUNK_EVENTS
                        && before
                            .as_ref()
                            .is_none_or(|before| follows(&events, before)) =>
                {
                    read.events.extend(events);
                    before = Some(text);
                    continue;
                }
                Err(ChunkError::Newer) => newer(sock, kept),
                _ => StoreError::Damaged { what, kept },
            });
        }
        read.lost.push(key);
    }
    read
}

fn newer(sock: u8, kept: usize) -> StoreError {
    let what = StoredPart::Log(sock);
    StoreError::Newer { what, kept }
}

impl Store<'_> {
    /// Reads a sock's log and moves what cannot be read into quarantine.
    ///
    /// # Errors
    /// Also when a newer Evenloop has written it. Nothing is moved then: that one will look for it.
    pub(super) fn open_log(
        self,
        sock: u8,
        chunks: Vec<Chunk>,
    ) -> Result<(Vec<Event>, Option<StoreError>), StoreError> {
        let LogRead {
            events,
            lost,
            trouble,
        } = read(sock, chunks);
        if let Some(newer @ StoreError::Newer { .. }) = trouble {
            return Err(newer);
        }
        for key in lost {
            self.quarantine(&key)?;
        }
        Ok((events, trouble))
    }

    /// The chunks of a pair's socks as they are. Nothing is asked for but this pair's own keys: a start must not take
    /// longer because there are other pairs.
    pub(super) fn chunks(self, id: &PairId) -> Result<[Vec<Chunk>; 2], StoreError> {
        Ok([self.chunks_of_sock(id, 1)?, self.chunks_of_sock(id, 2)?])
    }

    fn chunks_of_sock(self, id: &PairId, sock: u8) -> Result<Vec<Chunk>, StoreError> {
        let mut found = Vec::new();
        let (mut index, mut missing) = (0, 0);
        while missing < LOST_IN_A_ROW {
            let key = keys::chunk(id, sock, index);
            match self.shelf().get(&key)? {
                Some(text) => {
                    found.push((key, index, text));
                    missing = 0;
                }
                None => missing += 1,
            }
            index += 1;
        }
        Ok(found)
    }

    /// What has to be put for logs whose ends are new: the last chunk of each, and those before it that an
    /// earlier failure kept from being written, oldest first.
    ///
    /// # Errors
    /// [`StoreError::Behind`] when what is stored is not the beginning of these logs: another window has
    /// gone on; [`StoreError::Newer`] when that window has a newer Evenloop.
    pub(super) fn ends_of_logs(
        self,
        id: &PairId,
        logs: &[(u8, &[Event])],
    ) -> Result<Vec<StoredChange>, StoreError> {
        let mut changes = Vec::new();
        for (sock, events) in logs {
            changes.extend(self.end_of_log(id, *sock, events)?);
        }
        Ok(changes)
    }

    fn end_of_log(
        self,
        id: &PairId,
        sock: u8,
        events: &[Event],
    ) -> Result<Vec<StoredChange>, StoreError> {
        let parts: Vec<&[Event]> = events.chunks(CHUNK_EVENTS).collect();
        let Some(last) = parts.len().checked_sub(1) else {
            return Ok(Vec::new());
        };
        if self.chunk(id, sock, parts.len())?.is_some() {
            return Err(StoreError::Behind);
        }
        let mut from = last;
        let mut there = None;
        loop {
            let part = parts[from];
            match self.chunk(id, sock, from)? {
                Some(text) => {
                    let stored = read_chunk(number(from), &text).map_err(|error| match error {
                        ChunkError::Newer => newer(sock, CHUNK_EVENTS * from),
                        _ => StoreError::Behind,
                    })?;
                    if !part.starts_with(&stored) {
                        return Err(StoreError::Behind);
                    }
                    there = Some(text);
                    break;
                }
                // A last chunk just begun needs only the one before it to be whole.
                None if from == 0 => break,
                None => from -= 1,
            }
        }
        let ends = parts.iter().enumerate().skip(from).map(|(index, part)| {
            let key = keys::chunk(id, sock, number(index));
            StoredChange::put(key, write_chunk(number(index), part))
        });
        // The chunk before one just begun is usually whole already.
        Ok(ends.filter(|end| end.text != there).collect())
    }

    /// Stores logs whose ends are new, all of it or nothing: what one touch adds may begin a new chunk.
    ///
    /// # Errors
    /// As [`Store::ends_of_logs`]; nothing is written then. [`StoreError::Full`] when there is no room;
    /// the shelf may hold it then.
    pub(super) fn append_logs(
        self,
        id: &PairId,
        logs: &[(u8, &[Event])],
    ) -> Result<(), StoreError> {
        let changes = self.ends_of_logs(id, logs)?;
        self.commit(&changes).inspect_err(|error| {
            if *error == StoreError::Full {
                for StoredChange { key, text } in &changes {
                    self.shelf().hold(key, text.as_deref().unwrap_or_default());
                }
            }
        })
    }

    /// Writes a whole log in place of what is stored.
    #[cfg(test)]
    pub(super) fn replace_log(
        self,
        id: &PairId,
        sock: u8,
        events: &[Event],
    ) -> Result<(), StoreError> {
        let mut changes = chunks_of(id, sock, events);
        let chunks = changes.len();
        let [first, second] = self.chunks(id)?;
        let old = if sock == 2 { second } else { first };
        let gone = old
            .into_iter()
            .filter(|(_, index, _)| *index as usize >= chunks);
        changes.extend(gone.map(|(key, ..)| StoredChange::remove(key)));
        self.commit(&changes)
    }

    fn chunk(self, id: &PairId, sock: u8, index: usize) -> Result<Option<String>, StoreError> {
        self.shelf().get(&keys::chunk(id, sock, number(index)))
    }
}

/// A whole log in chunks.
pub(super) fn chunks_of(id: &PairId, sock: u8, events: &[Event]) -> Vec<StoredChange> {
    let parts = (0..).zip(events.chunks(CHUNK_EVENTS));
    parts
        .map(|(index, part)| {
            StoredChange::put(keys::chunk(id, sock, index), write_chunk(index, part))
        })
        .collect()
}

/// A chunk's number. A log of more chunks than that would have filled any phone long before.
fn number(index: usize) -> u32 {
    u32::try_from(index).unwrap_or(u32::MAX)
}
