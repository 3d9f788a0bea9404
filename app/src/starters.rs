//! Recipes to begin with, of our own: each a real sock of another construction, to be put in the
//! form and changed to a foot. Kept as recipe documents, so that they cost little and are read only
//! by the form.
//!
//! May use the engine; must not know the form or the basket.

use evenloop_engine::link::link_document;
use evenloop_engine::swatch::Gauge;
use evenloop_engine::text::Wording;
use evenloop_engine::units::Length;

use crate::text;

/// A recipe to begin with.
#[derive(Debug, Clone, Copy)]
pub struct Starter {
    /// What it is.
    pub name: &'static str,
    /// Whom it suits and what is special about it.
    pub about: fn(Wording) -> String,
    document: &'static str,
}

impl Starter {
    /// The link of its recipe.
    pub fn link(&self) -> String {
        link_document(self.document)
    }
}

/// All of them, the plainest first.
pub const STARTERS: [Starter; 8] = [
    Starter {
        name: text::starters::PLAIN,
        about: |_| text::starters::PLAIN_ABOUT.to_owned(),
        document: r#"{"foot":{"length":2450,"circumference":2250},"swatch":{"stitches":30,"width":1000,"rounds":42,"height":1000},"leg":1600}"#,
    },
    Starter {
        name: text::starters::STRIPES,
        about: |_| text::starters::STRIPES_ABOUT.to_owned(),
        document: r#"{"direction":"toe-up","foot":{"length":2500,"circumference":2300},"swatch":{"stitches":28,"width":1000,"rounds":40,"height":1000},"cuff":{"edge":{"rib":"1x1"},"length":350},"bind_off":"sewn","leg":1500,"heel":{"kind":"short-row","between":2},"toe":{"kind":"short-row"},"needles":{"method":"two-circulars","seating":"instep-and-sole"},"yarns":{"stripes":[{"yarn":"A","rounds":5},{"yarn":"B","rounds":2}],"cuff":"B","heel":"B","toe":"B"}}"#,
    },
    Starter {
        name: text::starters::LACE,
        about: |_| text::starters::LACE_ABOUT.to_owned(),
        document: r#"{"foot":{"length":2350,"circumference":2150},"swatch":{"stitches":32,"width":1000,"rounds":44,"height":1000},"cuff":{"edge":{"hem":{"picot":true}},"length":200},"leg":1400,"heel":{"kind":"flap-and-gusset","texture":"eye-of-partridge","turn":"round","corners":true},"toe":{"kind":"wedge","narrowing":"long"},"needles":{"method":"magic-loop","seating":"instep-and-sole"},"motif":{"rows":["k1 yo ssk k5","k8","k2 yo ssk k4","k8","k5 k2tog yo k1","k8","k4 k2tog yo k2","k8"],"place":"front"}}"#,
    },
    Starter {
        name: text::starters::CABLES,
        about: |_| text::starters::CABLES_ABOUT.to_owned(),
        document: r#"{"foot":{"length":2600,"circumference":2400},"swatch":{"stitches":30,"width":1000,"rounds":42,"height":1000,"pattern":{"stitches":34,"width":1000}},"cast_on":"twisted-long-tail","cuff":{"edge":{"rib":"2x2"},"length":500},"leg":1900,"heel":{"kind":"flap-and-gusset","texture":"slipped-stitch","turn":"square","corners":true},"needles":{"method":"five-dpns"},"motif":{"rows":["p1 k4 p1","p1 k4 p1","p1 cr2/2 p1","p1 k4 p1","p1 k4 p1","p1 k4 p1"],"place":"all-round"}}"#,
    },
    Starter {
        name: text::starters::CHILD,
        about: |wording| {
            let foot = Length::mm(170).show(wording.unit);
            text::starters::child_about(&foot, wording)
        },
        document: r#"{"foot":{"length":1700,"circumference":1700},"swatch":{"stitches":28,"width":1000,"rounds":40,"height":1000},"fit":{"ease_percent":8,"length_ease":50},"cuff":{"edge":"rolled","length":150},"leg":900,"heel":{"kind":"afterthought"},"toe":{"kind":"round"},"needles":{"method":"two-circulars","seating":"even-halves"},"yarns":{"stripes":[{"yarn":"A","rounds":4},{"yarn":"B","rounds":4},{"yarn":"C","rounds":4}],"cuff":"D","heel":"D","toe":"D"}}"#,
    },
    Starter {
        name: text::starters::LARGE,
        about: |wording| {
            let unit = wording.unit;
            let foot = Length::mm(300).show(unit);
            let (stitches, over) = (Gauge::to_10_cm(20).show(unit), Gauge::over(unit).show(unit));
            text::starters::large_about(&foot, &stitches, &over)
        },
        document: r#"{"foot":{"length":3000,"circumference":2750},"swatch":{"stitches":20,"width":1000,"rounds":28,"height":1000},"fit":{"ease_percent":8,"length_ease":100,"high_instep":true},"cuff":{"edge":{"rib":"3x1"},"length":600},"leg":2200,"heel":{"kind":"flap-and-gusset","texture":"garter-edge","turn":"band","corners":true},"needles":{"method":"four-dpns"}}"#,
    },
    Starter {
        name: text::starters::KNEE,
        about: |_| text::starters::KNEE_ABOUT.to_owned(),
        document: r#"{"foot":{"length":2450,"circumference":2250},"swatch":{"stitches":30,"width":1000,"rounds":42,"height":1000},"cuff":{"edge":{"rib":"twisted-1x1"},"length":500},"leg":3800,"calf":[{"height":1200,"circumference":2600},{"height":2200,"circumference":3400},{"height":3300,"circumference":3200}],"toe":{"kind":"shaped","foot":"left"}}"#,
    },
    Starter {
        name: text::starters::GUSSET,
        about: |_| text::starters::GUSSET_ABOUT.to_owned(),
        document: r#"{"direction":"toe-up","foot":{"length":2550,"circumference":2350},"swatch":{"stitches":30,"width":1000,"rounds":42,"height":1000},"bind_off":"yarn-over","leg":1700,"heel":{"kind":"flap-and-gusset","texture":"slipped-stitch","turn":"round","corners":true},"needles":{"method":"short-circular","length":"23-cm"}}"#,
    },
];

#[cfg(test)]
mod tests {
    use std::collections::HashSet;

    use evenloop_engine::link::read_link;
    use evenloop_engine::plan::make;
    use evenloop_engine::recipe::{Direction, Heel, Recipe};
    use evenloop_engine::trace::Trace;
    use evenloop_engine::wire::read_recipe;

    use super::*;

    #[test]
    fn each_makes_a_sock_that_can_be_knitted_and_handed_on() {
        for starter in &STARTERS {
            let recipe = read_recipe(starter.document)
                .unwrap_or_else(|why| panic!("{}: {why:?}", starter.name));
            let plan = make(&recipe).unwrap_or_else(|why| panic!("{}: {why:?}", starter.name));
            let trace = Trace::of(&plan).unwrap_or_else(|why| panic!("{}: {why}", starter.name));
            assert_eq!(plan.outcome.cautions, [], "{}", starter.name);
            let left = trace.steps.last().map(|step| step.after().stitches());
            assert_eq!(left, Some(0), "{}", starter.name);
            assert_eq!(recipe.swatch.needle, None, "{}", starter.name);
            assert_eq!(read_link(&starter.link()), Ok(recipe), "{}", starter.name);
        }
    }

    #[test]
    fn each_is_of_another_construction() {
        let recipes: Vec<Recipe> = STARTERS
            .iter()
            .filter_map(|starter| read_link(&starter.link()).ok())
            .collect();
        assert_eq!(recipes.len(), STARTERS.len());
        let all =
            |what: fn(&Recipe) -> String| -> HashSet<String> { recipes.iter().map(what).collect() };
        assert_eq!(all(|r| format!("{:?}", r.direction)).len(), 2);
        let heels = all(|r| match r.heel {
            Heel::FlapAndGusset { texture, turn, .. } => format!("{texture:?} {turn:?}"),
            Heel::ShortRow { .. } => "short rows".to_owned(),
            Heel::Afterthought { .. } => "afterthought".to_owned(),
        });
        assert_eq!(heels.len(), 6, "{heels:?}");
        assert_eq!(all(|r| format!("{:?}", r.toe)).len(), 5);
        assert_eq!(all(|r| format!("{:?}", r.needles)).len(), 7);
        assert!(recipes.iter().any(|r| r.motif.is_some()));
        assert!(recipes.iter().any(|r| r.yarns.is_some()));
        assert!(recipes.iter().any(|r| !r.calf.is_empty()));
        let up = recipes.iter().filter(|r| r.direction == Direction::ToeUp);
        assert!(up.count() > 1);
    }
}
