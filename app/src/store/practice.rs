//! The tiny sock that is knitted to try things out: a pair like any other, of which one text says that it is the one
//! that is thrown away afterwards, and which pair was in hand before.

use super::device;
use super::error::StoreError;
use super::handle::Store;
use super::keys;
use super::operation::StoredChange;
use super::pair::PairId;
use super::pairs::new_pair;

/// What is stored once it was knitted or declined.
const OVER: &str = "over";
/// What is stored before its id and, where there was one, that of the pair in hand before.
const SOCK: &str = "sock ";

/// Whether there is a tiny sock.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Practice {
    /// It was never begun nor declined.
    Unasked,
    /// It lies in the basket.
    Begun(PairId),
    /// It was thrown away or declined. So was what an older Evenloop offered in its place.
    Over,
}

impl Store<'_> {
    /// Whether there is a tiny sock. Where the storage refuses there is none, and none is offered.
    pub fn practice(self) -> Practice {
        let Ok(text) = self.shelf().get(keys::GUIDE) else {
            return Practice::Over;
        };
        let Some(text) = text else {
            return Practice::Unasked;
        };
        let [sock, _] = pairs_in(&text);
        sock.filter(|id| self.is_in_basket(id))
            .map_or(Practice::Over, Practice::Begun)
    }

    /// Puts the tiny sock in the basket and takes it in hand; `now` is seconds since 1970.
    ///
    /// # Errors
    /// When its plan cannot be read or stored; nothing is left behind then.
    pub fn begin_practice(self, name: &str, plan_doc: &str, now: u64) -> Result<(), StoreError> {
        let id = PairId::new(now, device::random());
        let mut changes = new_pair(&id, name, plan_doc, None, now)?;
        let before = self.current();
        let before = before.map_or_else(String::new, |before| format!(" {before}"));
        changes.push(StoredChange::put(
            keys::GUIDE.to_owned(),
            format!("{SOCK}{id}{before}"),
        ));
        changes.push(StoredChange::put(keys::CURRENT.to_owned(), id.to_string()));
        self.commit(&changes)?;
        self.keep_reserve();
        Ok(())
    }

    /// Throws the tiny sock away for good and takes the pair in hand that was there before, or declines it where it was
    /// not begun.
    ///
    /// # Errors
    /// When the storage refuses; it is still there then.
    pub fn end_practice(self) -> Result<(), StoreError> {
        self.finish_operation()?;
        let text = self.shelf().get(keys::GUIDE)?.unwrap_or_default();
        let [sock, before] = pairs_in(&text);
        let mut changes = match &sock {
            Some(id) => self.removal_of(id)?,
            None => Vec::new(),
        };
        let was_in_hand = changes.iter().any(|change| change.key == keys::CURRENT);
        if let Some(before) = before.filter(|id| was_in_hand && self.is_in_basket(id)) {
            changes.retain(|change| change.key != keys::CURRENT);
            changes.push(StoredChange::put(
                keys::CURRENT.to_owned(),
                before.to_string(),
            ));
        }
        changes.push(StoredChange::put(keys::GUIDE.to_owned(), OVER.to_owned()));
        self.commit_taking_away(&changes)
    }

    fn is_in_basket(self, id: &PairId) -> bool {
        let there = self.shelf().get(&keys::plan(id)).ok().flatten().is_some();
        there && self.is_out(id) == Ok(false)
    }
}

/// The tiny sock and the pair in hand before, as far as a text names them.
fn pairs_in(text: &str) -> [Option<PairId>; 2] {
    let mut ids = text.strip_prefix(SOCK).unwrap_or_default().split(' ');
    [ids.next(), ids.next()].map(|id| id.and_then(PairId::read))
}
