//! Where a stitch lies: the region of the sock that its section makes, and its place in the round.
//!
//! Reads the simulator's needles. Must not know how a stitch is made.

use evenloop_engine::needles::{Item, Needles, Origin};
use evenloop_engine::plan::SectionKind;

use super::stitch::{PlaceInRound, Region, Zone};

/// Where a section's stitches lie; what has no extent of its own belongs to what it borders on.
pub(super) const fn region(kind: SectionKind, before: Region, toe: Region) -> Region {
    match kind {
        SectionKind::Cuff | SectionKind::BindOff => Region::Cuff,
        SectionKind::Leg => Region::Leg,
        SectionKind::HeelFlap => Region::Flap,
        SectionKind::HeelTurn => Region::Turn,
        SectionKind::PickUp | SectionKind::Gusset => Region::Gusset,
        SectionKind::ShortHeel => Region::ShortHeel,
        SectionKind::LateHeel | SectionKind::LateClose => Region::LateHeel,
        SectionKind::Foot => Region::Foot,
        SectionKind::Toe | SectionKind::Close => toe,
        SectionKind::CastOn | SectionKind::HeelPlace => before,
    }
}

/// Until the step is done.
pub(super) const NOWHERE: PlaceInRound = PlaceInRound {
    zone: Zone::Back,
    at: 0,
    of: 1,
    gussets: (0, 0),
    outside: (0, 0),
};

/// A count, as it is kept.
pub(super) fn narrow(n: usize) -> u16 {
    u16::try_from(n).unwrap_or(u16::MAX)
}

/// The place of every loop in ring order.
pub(super) fn places(needles: &Needles, region: Region) -> Vec<PlaceInRound> {
    let zones: Vec<Zone> = needles
        .items()
        .flat_map(|item| {
            let (origin, n) = match item {
                Item::Stitches(origin, _, n) => (Some(origin), n),
                Item::Double(origin) | Item::Wrapped(origin, _) => (Some(origin), 1),
                Item::Marker(_) | Item::End | Item::Edge { .. } | Item::Gap => (None, 0),
            };
            (0..n).filter_map(move |_| origin.map(|origin| zone(origin, region)))
        })
        .collect();
    let count = |wanted: Zone| narrow(zones.iter().filter(|zone| **zone == wanted).count());
    let gussets = (count(Zone::AfterBack), count(Zone::AfterFront));
    let mut places = vec![NOWHERE; zones.len()];
    for wanted in [Zone::Front, Zone::AfterBack, Zone::AfterFront, Zone::Back] {
        let of = count(wanted);
        // A zone may lie across the beginning of the round: it begins after another zone's stitch.
        let begin = (0..zones.len())
            .find(|at| {
                zones[*at] == wanted && zones[(at + zones.len() - 1) % zones.len()] != wanted
            })
            .unwrap_or(0);
        let mine = (0..zones.len())
            .map(|nth| (begin + nth) % zones.len())
            .filter(|at| zones[*at] == wanted);
        for (at, index) in (0..of).zip(mine) {
            places[index] = PlaceInRound {
                zone: wanted,
                at,
                of,
                gussets,
                outside: (0, 0),
            };
        }
    }
    places
}

/// A heel knitted last is a tube of its own: the leg's side of it is its front.
const fn zone(origin: Origin, region: Region) -> Zone {
    match (origin, region) {
        (Origin::Front | Origin::Instep, _) | (Origin::Back, Region::LateHeel) => Zone::Front,
        (Origin::GussetLeft, _) => Zone::AfterBack,
        (Origin::GussetRight, _) => Zone::AfterFront,
        (Origin::Back | Origin::Heel | Origin::Sole, _) => Zone::Back,
    }
}
