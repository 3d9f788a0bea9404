//! What lies in a basket, read from the stored texts by the engine's own forms: names, plans and what happened to
//! each sock. What only repeats that, or says when it was, is left out, so that two baskets are the same
//! when a knitter would say so. Reading it finds whatever is torn: it knows no screen and no store.

use std::collections::BTreeMap;

use evenloop_engine::journal::{Digest, Event, Journal, follows, read_chunk};
use evenloop_engine::trace::Trace;
use evenloop_engine::wire::read_plan;
use serde_json::{Map, Value};

/// Everything that a knitter would miss.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub(crate) struct Basket {
    pub(crate) pairs: BTreeMap<String, Pair>,
    /// The pair that was taken out and can be put back; it is among the others.
    pub(crate) out: Option<String>,
    /// The pair in hand.
    pub(crate) current: Option<String>,
    /// Keys of what was set aside.
    pub(crate) aside: Vec<String>,
}

/// A pair in it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Pair {
    pub(crate) name: String,
    /// The digest of the plan it was cast on with.
    pub(crate) plan: String,
    /// The digests of the plans of single socks.
    pub(crate) own: [Option<String>; 2],
    /// What happened to each sock, without when.
    pub(crate) events: [Vec<String>; 2],
}

/// What happened, without when; nothing for what only says what a log belongs to.
fn told(event: &Event) -> Option<String> {
    Some(match event {
        Event::Begin(_) => "begun".to_owned(),
        Event::Done(_) => "done".to_owned(),
        Event::Undo(_) => "undone".to_owned(),
        Event::GoTo(_, to) => format!("gone to {}.{}", to.step, to.mv),
        Event::Note(.., text) => format!("noted {text}"),
        Event::Weighed(.., grams) => format!("weighed {grams:?}"),
        Event::Together(_, on) => format!("together {on}"),
        Event::Replanned(_, _, plan) => format!("planned anew {plan}"),
        Event::PlanTakenBack(_, _, plan) => format!("plan taken back {plan}"),
        bond if bond.is_bond() => return None,
        other => format!("{other:?}"),
    })
}

impl Basket {
    /// Reads the texts by their keys.
    ///
    /// # Errors
    /// What is torn, in words.
    pub(crate) fn read(texts: &Map<String, Value>) -> Result<Self, String> {
        let text = |key: &str| texts.get(key).and_then(Value::as_str);
        if text("evenloop:operation").is_some() {
            return Err("an operation is not finished".to_owned());
        }
        let mut basket = Self {
            current: text("evenloop:current").map(str::to_owned),
            ..Self::default()
        };
        if let Some(out) = text("evenloop:out") {
            let out: Value = serde_json::from_str(out).map_err(|error| error.to_string())?;
            basket.out = out["id"].as_str().map(str::to_owned);
        }
        for key in texts.keys() {
            if key.starts_with("evenloop:aside:") {
                basket.aside.push(key.clone());
            }
            let Some((id, held)) = key
                .strip_prefix("evenloop:pair:")
                .and_then(|rest| rest.split_once(':'))
            else {
                continue;
            };
            if text(&format!("evenloop:pair:{id}:plan")).is_none() {
                return Err(format!("{held} of {id}, which has no plan"));
            }
            if !basket.pairs.contains_key(id) {
                let pair = Pair::read(id, &text).map_err(|wrong| format!("{id}: {wrong}"))?;
                basket.pairs.insert(id.to_owned(), pair);
            }
        }
        Ok(basket)
    }

    /// What is otherwise in another basket, in words.
    pub(crate) fn difference(&self, other: &Self) -> String {
        let mut told = Vec::new();
        if (&self.out, &self.current, &self.aside) != (&other.out, &other.current, &other.aside) {
            let of = |one: &Self| {
                format!(
                    "{:?} out, {:?} in hand, aside {:?}",
                    one.out, one.current, one.aside
                )
            };
            told.push(format!("{} / {}", of(self), of(other)));
        }
        for id in self.pairs.keys().chain(other.pairs.keys()) {
            let (one, another) = (self.pairs.get(id), other.pairs.get(id));
            if one != another {
                told.push(format!("{id}: {one:?} / {another:?}"));
            }
        }
        told.dedup();
        told.join("\n")
    }
}

impl Pair {
    fn read<'a>(id: &str, text: &impl Fn(&str) -> Option<&'a str>) -> Result<Self, String> {
        let of = |held: &str| text(&format!("evenloop:pair:{id}:{held}"));
        let head: Value = serde_json::from_str(of("head").ok_or("it has no head")?)
            .map_err(|error| format!("its head: {error}"))?;
        let name = head["name"].as_str().ok_or("it has no name")?.to_owned();
        let meant = of("plan").ok_or("it has no plan")?;
        let own = [of("plan:1"), of("plan:2")];
        let first = own[0].unwrap_or(meant);
        let plans = [first, own[1].unwrap_or(first)];
        let mut events = [Vec::new(), Vec::new()];
        for (sock, plan) in [1, 2].into_iter().zip(plans) {
            let read =
                read_plan(plan).map_err(|error| format!("the plan of sock {sock}: {error:?}"))?;
            let trace = Trace::of(&read).map_err(|error| format!("sock {sock}: {error:?}"))?;
            let (mut log, mut before) = (Vec::new(), None);
            for index in 0.. {
                let Some(chunk) = of(&format!("log:{sock}:{index}")) else {
                    break;
                };
                let read = read_chunk(index, chunk).map_err(|error| format!("{error}"))?;
                if before.is_some_and(|before| !follows(&read, before)) {
                    return Err(format!("chunk {index} of sock {sock} does not follow"));
                }
                log.extend(read);
                before = Some(chunk);
            }
            let said = Journal::replay(&log, &trace).plan();
            if said.is_some_and(|said| said != Digest::of(plan)) {
                return Err(format!("the log of sock {sock} says another plan"));
            }
            events[sock - 1] = log.iter().filter_map(told).collect();
        }
        let digest = |text: &str| Digest::of(text).to_string();
        Ok(Self {
            name,
            plan: digest(meant),
            own: own.map(|plan| plan.map(digest)),
            events,
        })
    }
}
