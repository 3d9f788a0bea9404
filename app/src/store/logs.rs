//! The log of a sock in chunks: read with every checksum looked at, written at its end only.

use evenloop_engine::journal::{CHUNK_EVENTS, ChunkError, Event, read_chunk, write_chunk};

use super::error::{StoreError, StoredPart};
use super::handle::Store;
use super::keys::{self, KeyKind};
use super::pair::PairId;

/// A chunk as it lies there: key, number and text.
pub(super) type Chunk = (String, u32, String);

/// What could be read of a log, and what went wrong after it.
pub(super) struct Read {
    /// Every event before the first that could not be read.
    pub(super) events: Vec<Event>,
    /// Keys of what comes after, none of which can be trusted.
    pub(super) lost: Vec<String>,
    /// Why, when something is lost.
    pub(super) trouble: Option<StoreError>,
}

/// Reads chunks, in any order. Pure.
pub(super) fn read(sock: u8, mut chunks: Vec<Chunk>) -> Read {
    chunks.sort_by_key(|(_, index, _)| *index);
    let mut read = Read {
        events: Vec::new(),
        lost: Vec::new(),
        trouble: None,
    };
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
                Ok(events) if events.len() <= CHUNK_EVENTS => {
                    read.events.extend(events);
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
        let Read {
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

    /// The chunks of a pair's socks as they are, found in one walk along the shelf.
    pub(super) fn chunks(self, id: &PairId) -> Result<[Vec<Chunk>; 2], StoreError> {
        let mut found = [Vec::new(), Vec::new()];
        for key in self.shelf().keys()? {
            if let Some((owner, KeyKind::Chunk(sock, index))) = keys::read(&key)
                && owner == *id
                && let Some(text) = self.shelf().get(&key)?
            {
                found[usize::from(sock == 2)].push((key, index, text));
            }
        }
        Ok(found)
    }

    /// Stores a log whose end is new. Writes the last chunk only, and those before it that an earlier
    /// failure kept from being written, oldest first, so that what is stored is whole at every moment.
    ///
    /// # Errors
    /// [`StoreError::Behind`] when what is stored is not the beginning of this log: another window has
    /// gone on. Nothing is written then, nor when that window has a newer Evenloop:
    /// [`StoreError::Newer`]. [`StoreError::Full`] when there is no room; the shelf may hold it then.
    pub(super) fn append_log(
        self,
        id: &PairId,
        sock: u8,
        events: &[Event],
    ) -> Result<(), StoreError> {
        let parts: Vec<&[Event]> = events.chunks(CHUNK_EVENTS).collect();
        let Some(last) = parts.len().checked_sub(1) else {
            return Ok(());
        };
        if self.chunk(id, sock, parts.len())?.is_some() {
            return Err(StoreError::Behind);
        }
        let mut from = last;
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
                    break;
                }
                // A last chunk just begun needs only the one before it to be whole.
                None if from == 0 => break,
                None => from -= 1,
            }
        }
        let mut full = false;
        for (index, part) in parts.iter().enumerate().skip(from) {
            let text = write_chunk(number(index), part);
            let key = keys::chunk(id, sock, number(index));
            // The chunk before one just begun is usually whole already.
            if index != last && self.shelf().get(&key)?.as_deref() == Some(&text) {
                continue;
            }
            if !full {
                match self.shelf().put(&key, &text) {
                    Err(StoreError::Full) => full = true,
                    other => other?,
                }
            }
            if full {
                self.shelf().hold(&key, &text);
            }
        }
        if full { Err(StoreError::Full) } else { Ok(()) }
    }

    /// Writes a whole log in place of what is stored. Stopped anywhere, it leaves a log that is whole:
    /// the beginning of the new one, or of what both have in common.
    pub(super) fn replace_log(
        self,
        id: &PairId,
        sock: u8,
        events: &[Event],
    ) -> Result<(), StoreError> {
        let [first, second] = self.chunks(id)?;
        let mut old = if sock == 2 { second } else { first };
        old.sort_by_key(|(_, index, _)| *index);
        let new: Vec<String> = (0..)
            .zip(events.chunks(CHUNK_EVENTS))
            .map(|(index, part)| write_chunk(index, part))
            .collect();
        let same = (0..)
            .zip(&new)
            .zip(&old)
            .take_while(|((index, text), (_, number, stored))| index == number && *text == stored);
        let same = same.count();
        // The chunk at which they part is written over in one go; what follows it goes first.
        let gone_from = same + usize::from(same < new.len());
        for (key, ..) in old
            .iter()
            .rev()
            .take_while(|(_, index, _)| *index as usize >= gone_from)
        {
            self.shelf().remove(key)?;
        }
        for (index, text) in new.iter().enumerate().skip(same) {
            self.shelf()
                .put(&keys::chunk(id, sock, number(index)), text)?;
        }
        Ok(())
    }

    fn chunk(self, id: &PairId, sock: u8, index: usize) -> Result<Option<String>, StoreError> {
        self.shelf().get(&keys::chunk(id, sock, number(index)))
    }
}

/// A chunk's number. A log of more chunks than that would have filled any phone long before.
fn number(index: usize) -> u32 {
    u32::try_from(index).unwrap_or(u32::MAX)
}
