//! Every state of many socks is laid out and looked at: nothing leaves the field, nothing written
//! lies on something else written, and every number is the simulator's.

use evenloop_engine::needles::Origin;
use evenloop_engine::plan::{Plan, SectionKind, StepForm, make};
use evenloop_engine::recipe::{
    Direction, Edge, FlapTexture, Heel, HeelOpening, HeelTurn, Method, Recipe, Toe, ToeCastOn,
};
use evenloop_engine::stitch::Op;
use evenloop_engine::trace::{Position, Trace};
use evenloop_engine::units::Length;

use super::*;

const ORIGINS: [Origin; 7] = [
    Origin::Back,
    Origin::Front,
    Origin::Heel,
    Origin::GussetLeft,
    Origin::Instep,
    Origin::GussetRight,
    Origin::Sole,
];

/// Socks of many sizes, with every heel, both ways.
fn plans(method: Method) -> Vec<Plan> {
    let flap = |corners| Heel::FlapAndGusset {
        texture: FlapTexture::default(),
        turn: HeelTurn::default(),
        rows: None,
        height: None,
        corners,
    };
    let late = |opening| Heel::Afterthought { opening };
    let heels = [
        flap(false),
        flap(true),
        Heel::ShortRow { between: 1 },
        late(HeelOpening::WasteYarn),
        late(HeelOpening::Snipped),
    ];
    let mut plans = Vec::new();
    for stitches in [32, 36, 64, 96] {
        for heel in heels {
            for direction in [Direction::CuffDown, Direction::ToeUp] {
                let mut recipe = Recipe {
                    needles: method,
                    stitches: Some(stitches),
                    heel,
                    direction,
                    ..Recipe::default()
                };
                if direction == Direction::ToeUp && stitches == 36 {
                    recipe.toe = Toe::ShortRow;
                    recipe.toe_cast_on = ToeCastOn::Provisional;
                }
                // long enough for every gusset
                recipe.foot.length = Length::cm(34);
                // few stitches have to reach round a short circular
                recipe.swatch.stitches = if stitches > 60 { 30 } else { 18 };
                plans.push(make(&recipe).unwrap_or_else(|e| panic!("{recipe:?}: {e:?}")));
            }
        }
    }
    plans
}

/// Calls `look` with every state of those socks.
fn every_state(look: impl FnMut(&str, &Needles, &Picture)) {
    every_state_on(&Method::ALL, look);
}

fn every_state_on(methods: &[Method], mut look: impl FnMut(&str, &Needles, &Picture)) {
    for &method in methods {
        for plan in plans(method) {
            let trace = Trace::of(&plan).expect("made plans can be knitted");
            let mut seen = None;
            for (i, step) in trace.steps.iter().enumerate() {
                let flat = plan
                    .step(i)
                    .is_some_and(|s| matches!(s.form, StepForm::Row(_)));
                let moves = step.moves.iter().map(|m| &m.after);
                for (m, needles) in std::iter::once(&step.before).chain(moves).enumerate() {
                    // most rounds leave everything as it was
                    if seen.replace(needles) == Some(needles) {
                        continue;
                    }
                    let picture = Picture::of(needles, method.into(), flat);
                    let recipe = &plan.recipe;
                    let name = format!(
                        "{method:?} {:?} {:?} {:?} {:?} {i} {m}",
                        recipe.stitches, recipe.heel, recipe.direction, step.kind
                    );
                    look(&name, needles, &picture);
                }
            }
        }
    }
}

/// A written text as a box that may be turned: its middle, half its size, its angle. Its words are
/// for the failure's message.
#[derive(Debug)]
#[allow(dead_code)] // read by Debug only
struct Plate {
    middle: PicturePoint,
    half: PicturePoint,
    turn: f32,
    text: String,
}

impl Plate {
    fn of(text: &PictureText, letter: f32, high: f32) -> Self {
        let wide = letter * f32::from(u16::try_from(text.words.chars().count()).unwrap_or(0));
        let shift = match text.hold {
            Hold::Start => wide / 2.0,
            Hold::Middle => 0.0,
            Hold::End => -wide / 2.0,
        };
        Self {
            middle: PicturePoint::new(text.x + shift, text.y),
            half: PicturePoint::new(wide / 2.0, high / 2.0),
            turn: text.turn.to_radians(),
            text: text.words.clone(),
        }
    }

    fn corners(&self) -> [PicturePoint; 4] {
        let (sin, cos) = self.turn.sin_cos();
        [(-1.0, -1.0), (1.0, -1.0), (1.0, 1.0), (-1.0, 1.0)].map(|(x, y)| {
            let (x, y) = (x * self.half.x, y * self.half.y);
            PicturePoint::new(
                self.middle.x + x * cos - y * sin,
                self.middle.y + x * sin + y * cos,
            )
        })
    }

    /// Two boxes lie apart when a line along a side of one of them parts them.
    fn lies_on(&self, other: &Self) -> bool {
        ![self, other].iter().any(|of| {
            let (sin, cos) = of.turn.sin_cos();
            [PicturePoint::new(cos, sin), PicturePoint::new(-sin, cos)]
                .iter()
                .any(|way| {
                    let reach = |plate: &Self| {
                        let on = plate.corners().map(|c| c.x * way.x + c.y * way.y);
                        (
                            on.iter().copied().fold(f32::MAX, f32::min),
                            on.iter().copied().fold(f32::MIN, f32::max),
                        )
                    };
                    let ((a, b), (c, d)) = (reach(self), reach(other));
                    b <= c + 0.5 || d <= a + 0.5
                })
        })
    }
}

/// Everything written in a picture: names and counts, and the totals as the boxes they stand in.
fn plates(picture: &Picture) -> Vec<Plate> {
    let names = picture.names.iter().map(|t| Plate::of(t, 5.8, 11.0));
    let counts = picture.bands.iter().map(|b| Plate::of(&b.count, 8.0, 12.0));
    let waiting = picture
        .openings
        .iter()
        .filter_map(|o| o.count.as_ref())
        .map(|t| Plate::of(t, 8.0, 12.0));
    let totals = picture.totals.iter().map(|t| Plate {
        middle: PicturePoint::new(t.x, t.y),
        half: PicturePoint::new(t.wide / 2.0, 9.0),
        turn: 0.0,
        text: format!("total {}", t.stitches),
    });
    names.chain(counts).chain(waiting).chain(totals).collect()
}

fn all_apart(name: &str, picture: &Picture) {
    let plates = plates(picture);
    for (i, a) in plates.iter().enumerate() {
        for b in &plates[i + 1..] {
            assert!(!a.lies_on(b), "{name}: {a:?} lies on {b:?}");
        }
    }
}

fn all_inside(name: &str, picture: &Picture) {
    for plate in plates(picture) {
        for corner in plate.corners() {
            let inside =
                (-0.5..=WIDE + 0.5).contains(&corner.x) && (-0.5..=HIGH + 0.5).contains(&corner.y);
            assert!(inside, "{name}: {plate:?}");
        }
    }
}

#[test]
fn nothing_written_lies_on_anything_written() {
    every_state(|name, _, picture| all_apart(name, picture));
}

#[test]
fn nothing_written_leaves_the_field() {
    every_state(|name, _, picture| all_inside(name, picture));
}

/// Rounds and rows that two socks at a time do together: the beginning of each.
#[test]
fn two_socks_lie_side_by_side_and_every_number_is_theirs() {
    use evenloop_engine::recipe::Seating;
    let seating = Seating::InstepAndSole;
    let methods = [
        (Method::MagicLoop { seating }, Look::Loop),
        (Method::TwoCirculars { seating }, Look::Pair),
    ];
    let mut seen = 0;
    for (method, look) in methods {
        for plan in plans(method) {
            let trace = Trace::of(&plan).expect("made plans can be knitted");
            let mut before = None;
            for (i, step) in trace.steps.iter().enumerate() {
                let form = plan.step(i).map(|s| s.form);
                let needles = &step.before;
                let flap = step.kind == SectionKind::HeelFlap
                    && plan.recipe.direction == Direction::CuffDown;
                let joint = form == Some(StepForm::Round)
                    || (matches!(form, Some(StepForm::Row(_))) && flap);
                if !joint || before.replace(needles) == Some(needles) {
                    continue;
                }
                let picture = Picture::of_two(needles, needles, look, flap);
                let name = format!("{method:?} {:?} {:?} {i}", plan.recipe.stitches, step.kind);
                assert!(picture.waiting.is_some(), "{name}: two yarns");
                assert!(picture.working.is_some(), "{name}");
                all_apart(&name, &picture);
                all_inside(&name, &picture);
                let sum = |origin| {
                    let of = picture.bands.iter().filter(|b| b.origin == origin);
                    of.map(|b| b.count.words.parse::<u16>().expect("a count"))
                        .sum::<u16>()
                };
                for origin in ORIGINS {
                    assert_eq!(
                        sum(origin),
                        2 * needles.stitches_of(origin),
                        "{name}: {origin:?}"
                    );
                }
                let totals: Vec<u16> = picture.totals.iter().map(|t| t.stitches / 2).collect();
                assert_eq!(totals, needles.per_needle(), "{name}");
                seen += 1;
            }
        }
    }
    assert!(seen > 100, "{seen}");
}

fn spots(d: &str) -> Vec<(f32, f32)> {
    let numbers: Vec<f32> = d
        .split(|c: char| c.is_ascii_alphabetic() || c == ' ')
        .filter(|part| !part.is_empty())
        .map(|part| part.parse().expect("paths hold numbers"))
        .collect();
    numbers.chunks(2).map(|pair| (pair[0], pair[1])).collect()
}

/// Places along a cubic curve of four control points.
fn bend(spots: &[(f32, f32)]) -> Vec<(f32, f32)> {
    assert_eq!(spots.len(), 4, "a cable is one curve: {spots:?}");
    (0..=20_u16)
        .map(|i| {
            let part = f32::from(i) / 20.0;
            let left = 1.0 - part;
            let weights = [
                left * left * left,
                3.0 * left * left * part,
                3.0 * left * part * part,
                part * part * part,
            ];
            let sum = |of: fn(&(f32, f32)) -> f32| {
                spots
                    .iter()
                    .zip(weights)
                    .map(|(spot, weight)| of(spot) * weight)
                    .sum()
            };
            (sum(|spot| spot.0), sum(|spot| spot.1))
        })
        .collect()
}

#[test]
fn every_group_fits_and_can_be_read() {
    every_state(|name, _, picture| {
        for band in &picture.bands {
            let spots = spots(&band.fabric);
            for (x, y) in &spots {
                assert!(
                    (0.0..=WIDE).contains(x) && (0.0..=HIGH).contains(y),
                    "{name}: {band:?}"
                );
            }
            let (a, b) = (spots[0], spots[1]);
            if spots.len() == 4 {
                let wide = (a.0 - b.0).hypot(a.1 - b.1);
                assert!(wide >= 12.0, "{name}: {wide} for {band:?}");
            }
        }
        for cable in &picture.cables {
            for (x, y) in bend(&spots(cable)) {
                assert!(
                    (0.0..=WIDE).contains(&x) && (0.0..=HIGH).contains(&y),
                    "{name}: {cable}"
                );
            }
        }
    });
}

#[test]
fn every_number_is_the_simulators() {
    every_state(|name, needles, picture| {
        let shown = |band: &StitchBand| band.count.words.parse::<u16>().expect("a count");
        for origin in ORIGINS {
            let sum: u16 = picture
                .bands
                .iter()
                .filter(|b| b.origin == origin)
                .map(shown)
                .sum();
            assert_eq!(sum, needles.stitches_of(origin), "{name}: {origin:?}");
        }
        for band in &picture.bands {
            let loops = band.loops.matches('Q').count();
            assert_eq!(
                loops,
                usize::from(shown(band)),
                "{name}: a loop for each stitch"
            );
        }
        let totals: Vec<u16> = picture.totals.iter().map(|t| t.stitches).collect();
        if picture.empty.is_none() {
            assert_eq!(totals, needles.per_needle(), "{name}");
        }
        assert_eq!(picture.empty.is_some(), needles.stitches() == 0, "{name}");
        assert_eq!(picture.working.is_some(), needles.stitches() > 0, "{name}");
        assert_eq!(
            picture.totals.iter().filter(|t| t.works).count(),
            usize::from(picture.empty.is_none()),
            "{name}"
        );
    });
}

/// Where nothing is on the needles there are two states: what comes is drawn, or the sock is off and fastened off.
#[test]
fn every_place_of_a_sock_has_its_picture() {
    let mut coming = 0;
    for method in Method::ALL {
        let late = |opening| Heel::Afterthought { opening };
        let heels = [
            Heel::default(),
            late(HeelOpening::WasteYarn),
            late(HeelOpening::Snipped),
        ];
        let mut recipes = Vec::new();
        for heel in heels {
            let one = |direction, toe, toe_cast_on, edge| {
                let mut recipe = Recipe {
                    needles: method,
                    stitches: Some(64),
                    heel,
                    direction,
                    toe,
                    toe_cast_on,
                    ..Recipe::default()
                };
                recipe.cuff.edge = edge;
                recipe.foot.length = Length::cm(30);
                recipe.swatch.stitches = 30;
                recipe
            };
            for edge in [Edge::default(), Edge::Hem { picot: false }] {
                for toe in Toe::ALL {
                    recipes.push(one(Direction::CuffDown, toe, ToeCastOn::default(), edge));
                    for toe_cast_on in ToeCastOn::ALL {
                        recipes.push(one(Direction::ToeUp, toe, toe_cast_on, edge));
                    }
                }
            }
        }
        // What cannot be planned is refused elsewhere.
        let plans: Vec<Plan> = recipes
            .iter()
            .filter_map(|recipe| make(recipe).ok())
            .collect();
        assert!(plans.len() > 100, "{method:?}: {}", plans.len());
        for plan in plans {
            let trace = Trace::of(&plan).expect("made plans can be knitted");
            let mut at = Position::default();
            let mut seen = None;
            while at < trace.end() {
                let name = format!("{:?} {at:?}", plan.recipe);
                let needles = trace.needles_at(at).expect("within the sock");
                let (_, mv) = plan.move_at(at).expect("within the sock");
                match trace.to_come(at) {
                    Some(to_come) => {
                        assert_eq!(needles.stitches(), 0, "{name}");
                        let picture = Picture::coming(to_come, method.into());
                        assert!(picture.empty.is_none(), "{name}");
                        all_apart(&name, &picture);
                        all_inside(&name, &picture);
                        coming += 1;
                    }
                    None if needles.stitches() == 0 => {
                        assert_eq!(mv.ops, [Op::FastenOff], "{name}");
                    }
                    None if seen.replace(needles) == Some(needles) => {}
                    None => assert!(
                        Picture::of(needles, method.into(), false).empty.is_none(),
                        "{name}"
                    ),
                }
                at = trace.advance(at);
            }
        }
    }
    assert!(coming > 1_000, "{coming}");
}

#[test]
fn open_edges_and_markers_are_all_there() {
    use evenloop_engine::needles::Item;
    every_state(|name, needles, picture| {
        if picture.empty.is_some() {
            return;
        }
        let waiting: u16 = picture
            .openings
            .iter()
            .filter_map(|o| o.count.as_ref())
            .map(|t| t.words.parse::<u16>().expect("a count"))
            .sum();
        let mut loops = 0;
        let (mut edges, mut gaps, mut markers) = (0, 0, 0);
        for item in needles.items() {
            match item {
                Item::Edge { loops: n, .. } => {
                    loops += n;
                    edges += 1;
                }
                Item::Gap => gaps += 1,
                Item::Marker(_) => markers += 1,
                Item::Stitches(..) | Item::Double(_) | Item::Wrapped(..) | Item::End => {}
            }
        }
        assert_eq!(waiting, loops, "{name}");
        assert_eq!(picture.openings.len(), edges, "{name}");
        assert_eq!(picture.gaps.len(), gaps, "{name}");
        assert_eq!(picture.beads.len(), markers, "{name}");
    });
}

#[test]
fn the_words_name_every_needle_and_count() {
    for method in Method::ALL {
        every_state_on(&[method], |name, needles, picture| {
            let words = super::super::say(needles, method.into(), false);
            for total in &picture.totals {
                if let Some(number) = total.number {
                    assert!(
                        words.contains(&format!("Needle {number}")),
                        "{name}: {words}"
                    );
                }
                let counted = text::picture::say_stitches(total.stitches);
                assert!(words.contains(&counted), "{name}: {words}");
            }
            assert!(
                picture.empty.is_none()
                    || words == text::picture::say_empty(needles.waste(), needles.to_snip()),
                "{name}: {words}"
            );
        });
    }
}

/// Half a heel left behind in the crossing lies on a cable: nobody has a third needle there.
#[test]
fn a_loop_and_two_circulars_have_two_needles() {
    let two = |method: &Method| matches!(Look::from(*method), Look::Loop | Look::Pair);
    let mut left_behind = 0;
    for method in Method::ALL.into_iter().filter(two) {
        every_state_on(&[method], |name, needles, picture| {
            let numbers: Vec<usize> = picture.totals.iter().filter_map(|t| t.number).collect();
            assert!(numbers.iter().all(|n| *n <= 2), "{name}: {numbers:?}");
            left_behind += usize::from(picture.totals.len() > 2);
            let words = super::super::say(needles, method.into(), false);
            assert!(!words.contains("Needle 3"), "{name}: {words}");
            assert_eq!(
                picture.totals.len() > 2,
                words.contains(text::picture::SAY_ON_CABLE),
                "{name}: {words}"
            );
        });
    }
    assert!(left_behind > 0, "there is such a state");
}
