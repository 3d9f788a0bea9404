//! What bringing a file in would do, did, and lets the knitter choose. Plain data: nothing is read or stored in here.

use std::collections::BTreeMap;

use evenloop_engine::journal::Seconds;

use crate::store::error::StoreError;
use crate::store::pair::PairId;
use crate::store::side::{Branch, PartedOver};

/// What bringing a file in does, or did; names of pairs.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Restored {
    /// Were not here.
    pub added: Vec<String>,
    /// The file had gone further, or the other device's was chosen.
    pub continued: Vec<String>,
    /// This device had gone further, or was just as far, or its own was chosen.
    pub kept: Vec<String>,
    /// Each had something that the other lacked, and both were put together.
    pub joined: Vec<String>,
    /// Had gone different ways and were both kept: the other stands beside it under this name.
    pub beside: Vec<String>,
    /// Had gone different ways, and this one was not chosen, here or there: it is kept aside under this name.
    pub not_chosen: Vec<String>,
    /// Cannot be read; in quarantine, raw.
    pub unreadable: Vec<String>,
    /// Were given a name both here and there: the one given last, which holds, and the other.
    pub named: Vec<[String; 2]>,
    /// Whether the settings were taken from the file; they are when there were none here.
    pub settings: bool,
    /// What stopped it before the end.
    pub stopped: Option<StoreError>,
}

/// A pair that went different ways here and there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PartedPair {
    /// The pair.
    pub id: PairId,
    /// What it is called here.
    pub name: String,
    /// What is not the same.
    pub over: PartedOver,
    /// How far it was when it was last the same; its device is not told.
    pub common: Branch,
    /// How far it is here.
    pub here: Branch,
    /// How far it is in the file.
    pub there: Branch,
}

/// What of a pair that went different ways is gone on with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Chosen {
    /// That of this device.
    Here,
    /// That of the file.
    There,
    /// Both, as two pairs.
    #[default]
    Both,
}

/// What the knitter chose, pair by pair; of others both are kept.
pub type Choices = BTreeMap<PairId, Chosen>;

/// What would become of everything in a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Preview {
    /// What the device is called that saved it, where it says so.
    pub device: Option<String>,
    /// When it was saved, seconds since 1970.
    pub made: Seconds,
    /// What would be done. Pairs that went different ways are not among it.
    pub would: Restored,
    /// Pairs that went different ways: of each the knitter chooses.
    pub parted: Vec<PartedPair>,
    /// Whether anything would be changed at all, apart from those.
    pub changes: bool,
}

impl Restored {
    pub(in crate::store) fn add(&mut self, other: Self) {
        self.added.extend(other.added);
        self.continued.extend(other.continued);
        self.kept.extend(other.kept);
        self.joined.extend(other.joined);
        self.beside.extend(other.beside);
        self.not_chosen.extend(other.not_chosen);
        self.unreadable.extend(other.unreadable);
        self.named.extend(other.named);
        self.settings |= other.settings;
    }
}
