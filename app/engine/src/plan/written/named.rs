//! What the names of a pattern's parts stand for in the sock.

use crate::pattern::Part;
use crate::recipe::SockPart;

/// The part of the sock that a named part belongs to.
pub(super) const fn of_sock(part: Part) -> SockPart {
    match part {
        Part::CastOn | Part::Cuff | Part::BindOff => SockPart::Cuff,
        Part::Leg => SockPart::Leg,
        Part::HeelFlap
        | Part::HeelTurn
        | Part::ShortRowHeel
        | Part::HeelPlace
        | Part::LateHeel
        | Part::PickUp
        | Part::Gusset => SockPart::Heel,
        Part::Foot => SockPart::Foot,
        Part::Toe | Part::Close => SockPart::Toe,
    }
}
