//! Needle state: live stitches as they lie on the needles, and what hangs between them.
//!
//! The fabric is a ring, seen from the right side and listed in the direction of right-side
//! knitting. It is held as two stacks around the working tip, so that working a run costs the same
//! however many stitches there are. Between stitches lie markers, needle ends, open edges and the
//! gaps that a turn leaves. This module keeps the order; which operation may do what is
//! [`crate::knit`]'s business.
//!
//! Pure. Must not know operations, plans or words.

use crate::stitch::{Marker, Yarn};

/// Where a live stitch belongs in the sock.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Origin {
    /// The back half of the leg, above the heel.
    Back,
    /// The front half of the leg, above the instep.
    Front,
    /// The heel flap and its turn.
    Heel,
    /// Picked up along the first (left) edge of the flap.
    GussetLeft,
    /// The top of the foot.
    Instep,
    /// Picked up along the second (right) edge of the flap.
    GussetRight,
    /// The underside of the foot.
    Sole,
}

/// Which edge of the heel flap, in the order in which they are picked up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum FlapEdge {
    /// The edge at the end of a right-side row; picked up first.
    Left,
    /// The edge at the beginning of a right-side row; picked up second.
    Right,
}

/// How a live stitch sits on its needle: which of its two legs lies in front, seen by the knitter who works
/// it next. Turning the work changes nothing in it.
///
/// Leading is the leg nearer the needle's tip. A new loop of knitting, purling, a yarn over laid from
/// front to back, picking up, and the usual cast-ons leads in front; a stitch slipped purlwise keeps
/// its mount. A double stitch has none: both its legs are worked together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Mount {
    /// The usual way: worked through the front loop it comes out open, through the back loop twisted.
    LeadingLegInFront,
    /// The other way: worked through the back loop it comes out open, through the front loop twisted.
    LeadingLegBehind,
}

impl Mount {
    /// The mount of a stitch that is turned on its needle.
    pub(crate) const fn turned(self) -> Self {
        match self {
            Self::LeadingLegInFront => Self::LeadingLegBehind,
            Self::LeadingLegBehind => Self::LeadingLegInFront,
        }
    }
}

/// One thing on a needle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Item {
    /// Neighbouring stitches of one origin that are mounted alike, and how many; never zero.
    Stitches(Origin, Mount, u16),
    /// One stitch pulled up to a double one where a short row was turned.
    Double(Origin),
    /// One stitch with a wrap around it where a short row was turned; it is worked like any other,
    /// with its wrap or without.
    Wrapped(Origin, Mount),
    /// A marker hanging between two stitches.
    Marker(Marker),
    /// A needle ends here.
    End,
    /// An open edge of a part worked flat: so many slipped-stitch loops wait to be picked up.
    Edge {
        /// Which edge.
        side: FlapEdge,
        /// Loops along it.
        loops: u16,
        /// Whether the corner beside it has been picked up already.
        corner_used: bool,
    },
    /// The small gap where a short row was turned.
    Gap,
}

/// Which side of the fabric faces the knitter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Facing {
    /// Right side: work goes along the ring.
    RightSide,
    /// Wrong side: work goes against it.
    WrongSide,
}

impl Facing {
    /// Which side faces in a row of flat work, counted from 0: it begins on the right side.
    pub(crate) const fn of_row(row: u16) -> Self {
        if row.is_multiple_of(2) {
            Self::RightSide
        } else {
            Self::WrongSide
        }
    }
}

impl Item {
    /// Where it belongs, when it is a live stitch or several.
    const fn origin(self) -> Option<Origin> {
        match self {
            Self::Stitches(origin, ..) | Self::Double(origin) | Self::Wrapped(origin, _) => {
                Some(origin)
            }
            Self::Marker(_) | Self::End | Self::Edge { .. } | Self::Gap => None,
        }
    }

    /// How many stitches it is.
    pub(crate) const fn width(self) -> u16 {
        match self {
            Self::Stitches(_, _, n) => n,
            Self::Double(_) | Self::Wrapped(..) => 1,
            Self::Marker(_) | Self::End | Self::Edge { .. } | Self::Gap => 0,
        }
    }
}

/// The needles with everything on them. Two states are equal when a knitter could not tell them
/// apart.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Needles {
    /// Everything before the working tip, in ring order.
    behind: Vec<Item>,
    /// Everything after it, the next thing last.
    ahead: Vec<Item>,
    facing: Facing,
    joined: bool,
    /// Stitches knitted with waste yarn for a later heel; none when there is no waste yarn.
    waste: u16,
    /// Stitches of the row that is snipped for a later heel; none when there is none.
    to_snip: u16,
    /// Loops of a waste yarn's chain that wait to be put on a needle.
    provisional: u16,
    /// Whether slipped row ends still make loops along the edges of the part worked flat.
    edges_grow: bool,
    /// The yarn in use.
    yarn: Yarn,
}

impl Default for Needles {
    fn default() -> Self {
        Self {
            behind: Vec::with_capacity(16),
            ahead: Vec::with_capacity(16),
            facing: Facing::RightSide,
            joined: false,
            waste: 0,
            to_snip: 0,
            provisional: 0,
            edges_grow: false,
            yarn: Yarn::default(),
        }
    }
}

impl Needles {
    /// Empty needles, right side facing.
    pub fn new() -> Self {
        Self::default()
    }

    /// Which side faces the knitter.
    pub const fn facing(&self) -> Facing {
        self.facing
    }

    /// Whether the ring has been joined.
    pub const fn joined(&self) -> bool {
        self.joined
    }

    /// Everything on the needles in ring order, from the beginning of the round.
    pub fn items(&self) -> impl Iterator<Item = Item> + '_ {
        self.behind
            .iter()
            .copied()
            .chain(self.ahead.iter().rev().copied())
    }

    /// How many live stitches there are.
    pub fn stitches(&self) -> u16 {
        self.behind
            .iter()
            .chain(&self.ahead)
            .map(|i| i.width())
            .sum()
    }

    /// How many live stitches of one origin there are.
    pub fn stitches_of(&self, origin: Origin) -> u16 {
        self.items()
            .map(|item| match item {
                Item::Stitches(o, _, n) if o == origin => n,
                Item::Double(o) | Item::Wrapped(o, _) if o == origin => 1,
                _ => 0,
            })
            .sum()
    }

    /// How many live stitches of one origin lie before the tip, along the ring.
    pub(crate) fn worked_of(&self, origin: Origin) -> u16 {
        let of = |item: &Item| item.origin() == Some(origin);
        self.behind
            .iter()
            .filter(|i| of(i))
            .map(|i| i.width())
            .sum()
    }

    /// Stitches on each needle, in ring order from the beginning of the round.
    /// While a needle's end is missing (one short circular) all stitches are one group.
    pub fn per_needle(&self) -> Vec<u16> {
        let mut counts = Vec::with_capacity(4);
        let mut open = 0;
        let mut any = false;
        for item in self.items() {
            if item == Item::End {
                counts.push(open);
                open = 0;
                any = false;
            } else {
                open += item.width();
                any |= item.width() > 0;
            }
        }
        if any {
            counts.push(open);
        }
        counts
    }

    /// Whether a needle, counted from 0 at the beginning of the round, holds stitches of a wanted
    /// origin.
    pub fn holds(&self, needle: usize, wanted: impl Fn(Origin) -> bool) -> bool {
        let mut at = 0;
        self.items().any(|item| match item {
            Item::End => {
                at += 1;
                false
            }
            Item::Stitches(origin, ..) | Item::Double(origin) | Item::Wrapped(origin, _) => {
                at == needle && wanted(origin)
            }
            Item::Marker(_) | Item::Edge { .. } | Item::Gap => false,
        })
    }

    /// Which needle the working tip is on, counting needle ends from the beginning of the round.
    pub fn needle_at_tip(&self) -> usize {
        self.behind.iter().filter(|i| **i == Item::End).count()
    }

    /// Index of the working tip among [`Self::items`]: this many items lie before it.
    pub fn tip(&self) -> usize {
        self.behind.len()
    }

    /// The next item in the direction of work.
    pub(crate) fn next(&self) -> Option<Item> {
        self.stacks().0.last().copied()
    }

    /// The item just passed, in the direction of work.
    pub(crate) fn last(&self) -> Option<Item> {
        self.stacks().1.last().copied()
    }

    /// What lies before the tip in the direction of work, nearest first.
    pub(crate) fn upcoming(&self) -> impl Iterator<Item = Item> + '_ {
        self.stacks().0.iter().rev().copied()
    }

    fn stacks(&self) -> (&Vec<Item>, &Vec<Item>) {
        match self.facing {
            Facing::RightSide => (&self.ahead, &self.behind),
            Facing::WrongSide => (&self.behind, &self.ahead),
        }
    }

    fn stacks_mut(&mut self) -> (&mut Vec<Item>, &mut Vec<Item>) {
        match self.facing {
            Facing::RightSide => (&mut self.ahead, &mut self.behind),
            Facing::WrongSide => (&mut self.behind, &mut self.ahead),
        }
    }

    /// Takes the next item off, in the direction of work.
    pub(crate) fn pop(&mut self) -> Option<Item> {
        self.stacks_mut().0.pop()
    }

    /// Puts an item back before the tip: it will be the next one again.
    pub(crate) fn unpop(&mut self, item: Item) {
        push_merged(self.stacks_mut().0, item);
    }

    /// Puts an item behind the tip: it has been worked.
    pub(crate) fn push(&mut self, item: Item) {
        push_merged(self.stacks_mut().1, item);
    }

    /// Takes up to `n` stitches of the next run, all of one origin and mounted alike.
    pub(crate) fn take(&mut self, n: u16) -> Option<(Origin, Mount, u16)> {
        let todo = self.stacks_mut().0;
        if let Some(Item::Wrapped(origin, mount)) = todo.last().copied()
            && n > 0
        {
            todo.pop();
            return Some((origin, mount, 1));
        }
        let Some(Item::Stitches(origin, mount, here)) = todo.last_mut() else {
            return None;
        };
        let (origin, mount) = (*origin, *mount);
        let taken = n.min(*here);
        *here -= taken;
        if *here == 0 {
            todo.pop();
        }
        Some((origin, mount, taken))
    }

    /// Changes the item just passed (an edge that gains a loop, say).
    pub(crate) fn last_mut(&mut self) -> Option<&mut Item> {
        self.stacks_mut().1.last_mut()
    }

    /// Changes the next item.
    pub(crate) fn next_mut(&mut self) -> Option<&mut Item> {
        self.stacks_mut().0.last_mut()
    }

    /// Turns the fabric over.
    pub(crate) fn flip(&mut self) {
        self.facing = match self.facing {
            Facing::RightSide => Facing::WrongSide,
            Facing::WrongSide => Facing::RightSide,
        };
    }

    /// Whether nothing is left before the tip on the way to the end of the round.
    pub(crate) fn at_end(&self) -> bool {
        self.ahead.is_empty()
    }

    /// The end of the round is its beginning: the tip goes round to the first item.
    pub(crate) fn wrap(&mut self) {
        std::mem::swap(&mut self.ahead, &mut self.behind);
        self.ahead.reverse();
    }

    /// Stitches that wait above and below a waste yarn.
    pub const fn waste(&self) -> u16 {
        self.waste
    }

    pub(crate) fn set_waste(&mut self, n: u16) {
        self.waste = n;
    }

    /// Stitches of the row that is snipped for a later heel.
    pub const fn to_snip(&self) -> u16 {
        self.to_snip
    }

    pub(crate) fn set_to_snip(&mut self, n: u16) {
        self.to_snip = n;
    }

    /// Loops of a waste yarn's chain that wait to be put on a needle.
    pub const fn provisional(&self) -> u16 {
        self.provisional
    }

    pub(crate) fn set_provisional(&mut self, n: u16) {
        self.provisional = n;
    }

    /// Puts a needle with so many stitches of one kind at the end of the ring.
    pub(crate) fn append_needle(&mut self, stitches: Item) {
        self.ahead.splice(0..0, [Item::End, stitches]);
    }

    /// The yarn in use.
    pub const fn yarn(&self) -> Yarn {
        self.yarn
    }

    pub(crate) fn set_yarn(&mut self, yarn: Yarn) {
        self.yarn = yarn;
    }

    /// Whether a slipped row end makes a loop along its edge.
    pub(crate) const fn edges_grow(&self) -> bool {
        self.edges_grow
    }

    /// Edges grow while a flap is worked, from its first row to the first short row.
    pub(crate) fn set_edges_grow(&mut self, grow: bool) {
        self.edges_grow = grow;
    }

    /// Whether a corner lies between the stitch worked last and the next one, and whether another one
    /// right after that.
    pub(crate) fn corners_beside_next(&self) -> (bool, bool) {
        let ahead = self.ahead.iter().rev().chain(&self.behind);
        let mut ahead = ahead.copied().filter_map(Item::origin);
        let behind = self.behind.iter().rev().chain(&self.ahead);
        let before = behind.copied().find_map(Item::origin);
        let next = ahead.next();
        let after = match self.ahead.last().copied() {
            Some(Item::Stitches(_, _, 2..)) => next,
            _ => ahead.next(),
        };
        let corner = |a: Option<Origin>, b: Option<Origin>| {
            a.zip(b).is_some_and(|(a, b)| meet_in_a_corner(a, b))
        };
        (corner(before, next), corner(next, after))
    }

    /// Marks the ring as joined.
    pub(crate) fn join(&mut self) {
        self.joined = true;
    }

    /// The beginning of the round moves to the tip. Order round the ring is kept.
    pub(crate) fn begin_here(&mut self) {
        // ring order from the tip: what is ahead, then what lies behind
        let mut ring = std::mem::take(&mut self.behind);
        ring.reverse();
        ring.append(&mut self.ahead);
        self.ahead = ring;
    }

    /// The gaps that turned rows have left are knitted over.
    pub(crate) fn close_gaps(&mut self) {
        for side in [&mut self.behind, &mut self.ahead] {
            side.retain(|item| *item != Item::Gap);
        }
    }

    /// The same with another number of stitches in all, made up for in one run of stitches, counted from
    /// 0; `None` where there is no such run or it is too short.
    pub(crate) fn with_run_resized(&self, nth: usize, all: u16) -> Option<Self> {
        let mut other = self.clone();
        let now = self.stitches();
        let runs = other.behind.iter_mut().chain(other.ahead.iter_mut().rev());
        let mut counts = runs.filter_map(|item| match item {
            Item::Stitches(_, _, n) => Some(n),
            _ => None,
        });
        let run = counts.nth(nth)?;
        *run = (*run + all.saturating_sub(now)).checked_sub(now.saturating_sub(all))?;
        (*run > 0).then_some(other)
    }

    /// The beginning of the round moves so many stitches back along the ring; the tip stays. Returns
    /// `false`, and changes nothing, when there are fewer stitches than that in the ring.
    pub(crate) fn begin_behind(&mut self, n: u16) -> bool {
        if n > self.stitches() {
            return false;
        }
        // ring order from the tip on: what is ahead, then what lies behind
        let mut ring = std::mem::take(&mut self.ahead);
        ring.reverse();
        ring.append(&mut self.behind);
        let mut left = n;
        let mut near = Vec::new();
        while left > 0
            && let Some(item) = ring.pop()
        {
            match item {
                Item::Stitches(origin, mount, all) if all > left => {
                    ring.push(Item::Stitches(origin, mount, all - left));
                    near.push(Item::Stitches(origin, mount, left));
                    left = 0;
                }
                item => {
                    left -= item.width();
                    near.push(item);
                }
            }
        }
        ring.reverse();
        self.ahead = ring;
        for item in near.into_iter().rev() {
            push_merged(&mut self.behind, item);
        }
        true
    }

    /// Puts an item at the beginning of the round.
    pub(crate) fn begin_with(&mut self, item: Item) {
        self.behind.insert(0, item);
    }

    /// Inserts an item `n` stitches ahead of the tip along the ring (past the end of the round it
    /// goes on from the beginning), before anything that already hangs there.
    /// Returns `false`, and changes nothing, when there are fewer stitches than that in the ring.
    pub(crate) fn insert_ahead(&mut self, n: u16, item: Item) -> bool {
        let Some(place) = self.locate(n) else {
            return false;
        };
        if place.split > 0 {
            let side = if place.in_ahead {
                &mut self.ahead
            } else {
                &mut self.behind
            };
            if let Some(Item::Stitches(origin, mount, all)) = side.get(place.index).copied() {
                // first part in ring order: nearer the tip in `ahead` (stored reversed)
                let (low, high) = if place.in_ahead {
                    (all - place.split, place.split)
                } else {
                    (place.split, all - place.split)
                };
                side[place.index] = Item::Stitches(origin, mount, low);
                side.insert(place.index + 1, item);
                side.insert(place.index + 2, Item::Stitches(origin, mount, high));
            }
        } else if place.in_ahead {
            self.ahead.insert(place.index, item);
        } else {
            self.behind.insert(place.index, item);
        }
        true
    }

    /// Removes the needle end that lies `n` stitches ahead of the tip along the ring.
    pub(crate) fn remove_end_ahead(&mut self, n: u16) -> bool {
        let mut passed = 0;
        for i in (0..self.ahead.len()).rev() {
            if passed > n {
                return false;
            }
            if self.ahead[i] == Item::End && passed == n {
                self.ahead.remove(i);
                merge_at(&mut self.ahead, i);
                return true;
            }
            passed += self.ahead[i].width();
        }
        for i in 0..self.behind.len() {
            if passed > n {
                return false;
            }
            if self.behind[i] == Item::End && passed == n {
                self.behind.remove(i);
                merge_at(&mut self.behind, i);
                return true;
            }
            passed += self.behind[i].width();
        }
        false
    }

    /// Takes a marker off wherever it hangs; `false` when there is none.
    pub(crate) fn remove_marker(&mut self, marker: Marker) -> bool {
        for side in [&mut self.ahead, &mut self.behind] {
            if let Some(i) = side.iter().position(|x| *x == Item::Marker(marker)) {
                side.remove(i);
                merge_at(side, i);
                return true;
            }
        }
        false
    }

    /// Whether a marker hangs anywhere.
    pub fn has_marker(&self, marker: Marker) -> bool {
        self.items().any(|i| i == Item::Marker(marker))
    }

    /// Takes off what was passed last.
    pub(crate) fn pop_behind(&mut self) -> Option<Item> {
        self.stacks_mut().1.pop()
    }

    /// Calls stitches between the two edges of a part worked flat the heel, and all others the instep;
    /// `false` where there are no edges.
    pub(crate) fn heel_between_edges(&mut self) -> bool {
        let tip = self.tip();
        let mut items: Vec<Item> = self.items().collect();
        let is_edge = |wanted: FlapEdge| move |item: &Item| matches!(item, Item::Edge { side, .. } if *side == wanted);
        let right = items.iter().position(is_edge(FlapEdge::Right));
        let left = items.iter().position(is_edge(FlapEdge::Left));
        let (Some(right), Some(left)) = (right, left) else {
            return false;
        };
        for (at, item) in items.iter_mut().enumerate() {
            let origin = if (right..left).contains(&at) {
                Origin::Heel
            } else {
                Origin::Instep
            };
            match item {
                Item::Stitches(o, ..) | Item::Double(o) | Item::Wrapped(o, _) => *o = origin,
                Item::Marker(_) | Item::End | Item::Edge { .. } | Item::Gap => {}
            }
        }
        let ahead = items.split_off(tip);
        self.behind.clear();
        for item in items {
            push_merged(&mut self.behind, item);
        }
        self.ahead.clear();
        for item in ahead.into_iter().rev() {
            push_merged(&mut self.ahead, item);
        }
        true
    }

    /// Calls the first half of the round heel and the rest instep, whatever they were; `false` where there are
    /// no two equal halves of a round.
    pub(crate) fn heel_is_first_half(&mut self) -> bool {
        let all = self.stitches();
        if !self.joined || all == 0 || !all.is_multiple_of(2) {
            return false;
        }
        let mut passed = 0;
        let behind: Vec<Item> = std::mem::take(&mut self.behind);
        let ahead: Vec<Item> = std::mem::take(&mut self.ahead);
        let ring_order = ahead.into_iter().rev();
        for item in behind {
            push_named(&mut self.behind, item, &mut passed, all / 2);
        }
        let mut named = Vec::with_capacity(16);
        for item in ring_order {
            push_named(&mut named, item, &mut passed, all / 2);
        }
        for item in named.into_iter().rev() {
            push_merged(&mut self.ahead, item);
        }
        true
    }

    /// Gives stitches a new origin: the same loops, called by what they have become.
    pub fn rename(&mut self, rule: impl Fn(Origin) -> Origin) {
        for side in [&mut self.behind, &mut self.ahead] {
            let old = std::mem::take(side);
            for item in old {
                push_merged(
                    side,
                    match item {
                        Item::Stitches(o, mount, n) => Item::Stitches(rule(o), mount, n),
                        Item::Double(o) => Item::Double(rule(o)),
                        Item::Wrapped(o, mount) => Item::Wrapped(rule(o), mount),
                        other => other,
                    },
                );
            }
        }
    }

    /// Removes everything: the sock is closed.
    pub(crate) fn clear(&mut self) {
        self.behind.clear();
        self.ahead.clear();
    }

    fn locate(&self, n: u16) -> Option<InsertionPoint> {
        let mut left = n;
        for i in (0..self.ahead.len()).rev() {
            if left == 0 {
                return Some(InsertionPoint {
                    in_ahead: true,
                    index: i + 1,
                    split: 0,
                });
            }
            let w = self.ahead[i].width();
            if w > left {
                return Some(InsertionPoint {
                    in_ahead: true,
                    index: i,
                    split: left,
                });
            }
            left -= w;
        }
        if left == 0 {
            // the very end of the round
            return Some(InsertionPoint {
                in_ahead: true,
                index: 0,
                split: 0,
            });
        }
        for (i, item) in self.behind.iter().enumerate() {
            let w = item.width();
            if w > left {
                return Some(InsertionPoint {
                    in_ahead: false,
                    index: i,
                    split: left,
                });
            }
            left -= w;
            if left == 0 {
                return Some(InsertionPoint {
                    in_ahead: false,
                    index: i + 1,
                    split: 0,
                });
            }
        }
        None
    }
}

/// Heel and instep, sole and instep, back and front meet in a corner on both sides; so do both halves
/// of a heel that is knitted where a waste yarn was.
const fn meet_in_a_corner(a: Origin, b: Origin) -> bool {
    const fn upper(origin: Origin) -> bool {
        matches!(origin, Origin::Instep | Origin::Front)
    }
    upper(a) != upper(b)
        || matches!(
            (a, b),
            (Origin::Sole, Origin::Back) | (Origin::Back, Origin::Sole)
        )
}

struct InsertionPoint {
    in_ahead: bool,
    /// Where to insert, or which run to split.
    index: usize,
    /// Stitches of that run that lie nearer in ring order; 0 when nothing is split.
    split: u16,
}

/// Adds something of the ring, its stitches named by whether they lie before the end of the heel.
fn push_named(items: &mut Vec<Item>, item: Item, passed: &mut u16, heel: u16) {
    let of_heel = heel.saturating_sub(*passed).min(item.width());
    *passed += item.width();
    let origin = if of_heel > 0 {
        Origin::Heel
    } else {
        Origin::Instep
    };
    match item {
        Item::Stitches(_, mount, n) => {
            for (origin, n) in [(Origin::Heel, of_heel), (Origin::Instep, n - of_heel)] {
                if n > 0 {
                    push_merged(items, Item::Stitches(origin, mount, n));
                }
            }
        }
        Item::Double(_) => push_merged(items, Item::Double(origin)),
        Item::Wrapped(_, mount) => push_merged(items, Item::Wrapped(origin, mount)),
        other => push_merged(items, other),
    }
}

fn push_merged(stack: &mut Vec<Item>, item: Item) {
    match (stack.last_mut(), item) {
        (_, Item::Stitches(_, _, 0)) => {}
        (Some(Item::Stitches(top, mount, n)), Item::Stitches(o, other, m))
            if *top == o && *mount == other =>
        {
            *n += m;
        }
        _ => stack.push(item),
    }
}

/// Joins two runs of one origin and mount that became neighbours around index `i`.
fn merge_at(side: &mut Vec<Item>, i: usize) {
    if i == 0 || i >= side.len() {
        return;
    }
    if let (Item::Stitches(a, mount, n), Item::Stitches(b, other, m)) = (side[i - 1], side[i])
        && (a, mount) == (b, other)
    {
        side[i - 1] = Item::Stitches(a, mount, n + m);
        side.remove(i);
    }
}
