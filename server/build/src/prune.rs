//! Empties functions that the linker must keep but that can never be called.
//!
//! A linked wasm keeps every function whose address is stored somewhere, even where it is never read
//! from there. Such a place is named here as a [`Slot`], with those who read it. From what the linker
//! recorded ([`Graph`]) it is then shown that none of the readers can be reached from outside; with
//! that, neither can what lies in the slot nor what only that needs, and all of it is emptied. It also
//! keeps the functions of a script's class of which no object is ever made ([`Dead::classes`]). A build
//! of which this cannot be shown, or in which there is nothing of the kind, is refused.
//!
//! Pure: one module in, one out. Names of slots are given by the caller of the build, in one list.

use std::collections::BTreeSet;

use anyhow::{Result, bail, ensure};
use wasm_encoder::{CustomSection, Encode, Section};
use wasmparser::{KnownCustom, Parser, Payload};

use crate::graph::{Edge, Graph, Node};

/// A place that holds functions' addresses and is read by known functions only.
#[derive(Debug, Clone, Copy)]
pub struct Slot {
    /// What the linker's names of the functions in the slot have in them.
    pub holds: &'static str,
    /// What the name of the one function that reads the slot has in it, where there must be such a one.
    pub reader: Option<&'static str>,
    /// What the names of those have in them that call the reader, and into which it may have been put.
    pub callers: &'static [&'static str],
}

/// What is claimed to be dead.
#[derive(Debug, Clone, Copy)]
pub struct Dead {
    /// What is put somewhere, and never read from there.
    pub slots: &'static [Slot],
    /// What the names of all functions of a class have in them. Its objects can only be made by the
    /// wasm, which would have to ask the script for it by a function of such a name.
    pub classes: &'static [&'static str],
}

/// What is dead in the app's framework.
pub const DEAD: Dead = Dead {
    slots: &SLOTS,
    // Streams that a browser would read from the app.
    classes: &["intounderlying"],
};

const SLOTS: [Slot; 2] = [
    // Each view that is erased brings the way to take a page over piece by piece with it. The field is
    // private; only the erased view's own function of that name reads it, and that is called from where
    // a page is taken over so, and from other views' functions of that name. The app takes over in one go.
    Slot {
        holds: "any_view..IntoAny$GT$8into_any13hydrate_async17h",
        reader: Some("any_view..AnyView$u20$as$u20$tachys..view..RenderHtml$GT$13hydrate_async"),
        callers: &[
            "13hydrate_async28_$u7b$$u7b$closure$u7d$$u7d$17h",
            "18hydrate_from_async",
            "12hydrate_lazy",
        ],
    },
    // The list of all routes, which a server asks for that renders them. The field is private; only the
    // erased route's own function reads it; no such route exists here, and its callers belong to a server.
    Slot {
        holds: "IntoAnyNestedRoute$GT$21into_any_nested_route15generate_routes17h",
        reader: None,
        callers: &["$GT$15generate_routes", "7to_html", "19generate_route_list"],
    },
];

/// What was emptied.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Emptied {
    /// How many functions were emptied.
    pub functions: usize,
    /// Their length.
    pub bytes: usize,
}

/// Empties what only slots keep. The wasm keeps its length but for the linker's records, so that no
/// address changes.
///
/// # Errors
/// When the wasm was not linked with `--emit-relocs`, a slot holds nothing, or one may be read.
pub fn prune(wasm: &[u8], claimed: &Dead) -> Result<(Vec<u8>, Emptied)> {
    let graph = Graph::read(wasm)?;
    let mut held = BTreeSet::new();
    for slot in claimed.slots {
        let found: Vec<u32> = graph.named(slot.holds).collect();
        ensure!(
            !found.is_empty(),
            "no function of the app is called {}: what was emptied by that name is now called \
             otherwise, or is no longer there",
            slot.holds
        );
        held.extend(found);
    }
    let mut closed = BTreeSet::new();
    for class in claimed.classes {
        let found: Vec<u32> = graph.named(class).collect();
        ensure!(
            !found.is_empty(),
            "the app has no class that is called {class}"
        );
        if let Some(maker) = found.iter().find(|function| graph.is_imported(**function)) {
            bail!(
                "objects of a class that was thought to have none are made: {}",
                graph.name(*maker)
            );
        }
        closed.extend(found);
    }
    // What is called by name, or lies in a constant, is reached all the same.
    let cut = |edge: &Edge| {
        edge.pointer
            && matches!(edge.from, Some(Node::Function(_)))
            && match edge.to {
                Node::Function(to) => held.contains(&to),
                Node::Data(_) => false,
            }
    };
    let before = graph.reached(|_| false, &BTreeSet::new());
    let after = graph.reached(cut, &closed);
    for slot in claimed.slots {
        if let Some(reader) = slot.reader {
            ensure!(
                graph.named(reader).next().is_some(),
                "nobody is called {reader}: who reads what is called {} cannot be told",
                slot.holds
            );
        }
        for reader in slot.callers.iter().chain(&slot.reader) {
            for function in graph.named(reader) {
                if after.contains_key(&Node::Function(function)) {
                    bail!(
                        "what was thought to be read by nobody ({}) may be read after all, on this way: {}",
                        slot.holds,
                        graph.way(&after, function).join(" <- ")
                    );
                }
            }
        }
    }
    let dead: BTreeSet<u32> = before
        .keys()
        .filter_map(|node| match node {
            Node::Function(function) if !after.contains_key(node) => Some(*function),
            _ => None,
        })
        .collect();
    empty(wasm, &graph, &dead)
}

/// How a body begins that has no variables and stops at once.
const TRAP: [u8; 2] = [0x00, 0x00];
/// The instruction that does nothing.
const NOTHING: u8 = 0x01;
/// How every body ends.
const END: u8 = 0x0b;

/// The wasm with a trap in place of each of these functions, and without what the linker recorded of them.
fn empty(wasm: &[u8], graph: &Graph, dead: &BTreeSet<u32>) -> Result<(Vec<u8>, Emptied)> {
    let mut bytes = wasm.to_vec();
    let mut emptied = Emptied {
        functions: 0,
        bytes: 0,
    };
    for function in dead {
        let Some(body) = graph.body(*function) else {
            continue;
        };
        let [first, second, rest @ .., last] = &mut bytes[body] else {
            continue;
        };
        [*first, *second] = TRAP;
        rest.fill(NOTHING);
        *last = END;
        emptied.functions += 1;
        emptied.bytes += rest.len() + 3;
    }
    let mut out = Vec::with_capacity(bytes.len());
    let mut copied = 0;
    for payload in Parser::new(0).parse_all(wasm) {
        let Payload::CustomSection(section) = payload? else {
            continue;
        };
        let KnownCustom::Reloc(records) = section.as_known() else {
            continue;
        };
        if section.name() != "reloc.CODE" {
            continue;
        }
        let mut kept = Vec::new();
        let mut count: u32 = 0;
        let mut entries = records.entries().into_iter_with_offsets().peekable();
        while let Some(entry) = entries.next() {
            let (from, entry) = entry?;
            let to = match entries.peek() {
                Some(Ok((next, _))) => usize::try_from(*next)?,
                _ => usize::try_from(section.range().end)?,
            };
            let of = graph.function_at(u64::from(entry.offset));
            if of.is_some_and(|function| dead.contains(&function)) {
                continue;
            }
            kept.extend_from_slice(&wasm[usize::try_from(from)?..to]);
            count += 1;
        }
        let mut data = Vec::new();
        records.section_index().encode(&mut data);
        count.encode(&mut data);
        data.append(&mut kept);
        let whole = graph.section_around(usize::try_from(section.range().start)?)?;
        out.extend_from_slice(&bytes[copied..whole.start]);
        CustomSection {
            name: section.name().into(),
            data: data.into(),
        }
        .append_to(&mut out);
        copied = whole.end;
    }
    out.extend_from_slice(&bytes[copied..]);
    Ok((out, emptied))
}

#[cfg(test)]
mod tests {
    use super::*;

    use wasm_encoder::{
        CodeSection, ConstExpr, ElementSection, Elements, EntityType, ExportKind, ExportSection,
        FunctionSection, ImportSection, LinkingSection, Module, NameMap, NameSection, SymbolTable,
        TableSection, TableType, TypeSection,
    };

    /// A function of a made-up module: its name, those that it calls, and those that it puts somewhere.
    struct Made {
        name: &'static str,
        calls: &'static [u32],
        keeps: &'static [u32],
    }

    const fn made(name: &'static str, calls: &'static [u32], keeps: &'static [u32]) -> Made {
        Made { name, calls, keeps }
    }

    /// A linked module; the first function is imported, the second one exported, and so is every one
    /// whose name begins with `class`.
    fn linked(imported: &'static str, functions: &[Made]) -> Vec<u8> {
        const CALL: u8 = 0;
        const POINTER: u8 = 1;
        let mut types = TypeSection::new();
        types.ty().function([], []);
        let mut imports = ImportSection::new();
        imports.import("script", imported, EntityType::Function(0));
        let (mut kinds, mut exports, mut code) = (
            FunctionSection::new(),
            ExportSection::new(),
            CodeSection::new(),
        );
        let (mut names, mut symbols) = (NameMap::new(), SymbolTable::new());
        names.append(0, imported);
        symbols.function(SymbolTable::WASM_SYM_UNDEFINED, 0, None);
        let mut records = Vec::new();
        let mut count: u32 = 0;
        // Behind the number of bodies.
        let mut place: u32 = 1;
        for (index, made) in (1..).zip(functions) {
            kinds.function(0);
            if index == 1 || made.name.starts_with("class") {
                exports.export(made.name, ExportKind::Func, index);
            }
            names.append(index, made.name);
            symbols.function(0, index, Some(made.name));
            // What points elsewhere takes five bytes, so that the linker can write over it.
            let mut body = vec![0];
            let mut mentions = Vec::new();
            for (kind, mentioned) in [(CALL, made.calls), (POINTER, made.keeps)] {
                for to in mentioned {
                    body.push(if kind == CALL { 0x10 } else { 0x41 });
                    mentions.push((kind, u32::try_from(body.len()).unwrap_or_default(), *to));
                    let low = u8::try_from(*to).unwrap_or_default();
                    body.extend([low | 0x80, 0x80, 0x80, 0x80, 0x00]);
                    if kind == POINTER {
                        body.push(0x1a);
                    }
                }
            }
            body.extend([0x01; 20]);
            body.push(0x0b);
            let length = u32::try_from(body.len()).unwrap_or_default();
            place += 1;
            for (kind, within, to) in mentions {
                records.push(kind);
                (place + within).encode(&mut records);
                to.encode(&mut records);
                count += 1;
            }
            place += length;
            code.raw(&body);
        }
        let mut tables = TableSection::new();
        let size = u64::try_from(functions.len()).unwrap_or_default() + 1;
        tables.table(TableType {
            element_type: wasm_encoder::RefType::FUNCREF,
            table64: false,
            minimum: size,
            maximum: None,
            shared: false,
        });
        let mut elements = ElementSection::new();
        let all: Vec<u32> = (0..).take(functions.len() + 1).collect();
        elements.active(
            None,
            &ConstExpr::i32_const(0),
            Elements::Functions(all.into()),
        );
        let mut linking = LinkingSection::new();
        linking.symbol_table(&symbols);
        let mut data = Vec::new();
        // The code is the seventh section.
        6_u32.encode(&mut data);
        count.encode(&mut data);
        data.append(&mut records);
        let mut naming = NameSection::new();
        naming.functions(&names);
        let mut module = Module::new();
        module
            .section(&types)
            .section(&imports)
            .section(&kinds)
            .section(&tables)
            .section(&exports)
            .section(&elements)
            .section(&code)
            .section(&linking)
            .section(&CustomSection {
                name: "reloc.CODE".into(),
                data: data.into(),
            })
            .section(&naming);
        module.finish()
    }

    const KEPT: Dead = Dead {
        slots: &[Slot {
            holds: "view_later",
            reader: Some("read_later"),
            callers: &["call_later"],
        }],
        classes: &["class"],
    };

    const START: Made = made("start", &[4], &[2]);
    const VIEW: Made = made("view_later", &[3], &[]);
    const HELP: Made = made("help_later", &[], &[]);
    const NEEDED: Made = made("needed", &[], &[]);
    const READER: Made = made("read_later", &[], &[]);
    const CLASS: Made = made("class_stream", &[7], &[]);
    const STREAM: Made = made("stream", &[], &[]);

    fn traps(wasm: &[u8]) -> Result<Vec<String>> {
        let graph = Graph::read(wasm)?;
        let traps = |function: &u32| {
            graph
                .body(*function)
                .is_some_and(|body| wasm[body].starts_with(&[0, 0]))
        };
        let mut found: Vec<String> = (0..20)
            .filter(traps)
            .map(|function| graph.name(function).to_owned())
            .collect();
        found.sort();
        Ok(found)
    }

    #[test]
    fn what_nobody_can_call_is_emptied_and_nothing_else() -> Result<()> {
        let wasm = linked("say", &[START, VIEW, HELP, NEEDED, READER, CLASS, STREAM]);
        wasmparser::Validator::new().validate_all(&wasm)?;
        let (pruned, emptied) = prune(&wasm, &KEPT)?;
        wasmparser::Validator::new().validate_all(&pruned)?;
        assert_eq!(
            traps(&pruned)?,
            ["class_stream", "help_later", "stream", "view_later"]
        );
        assert_eq!(emptied.functions, 4);
        // An emptied function calls no other any more; the rest call as before.
        let left = Graph::read(&pruned)?.reached(|_| false, &BTreeSet::new());
        assert!(!left.contains_key(&Node::Function(3)));
        assert!(left.contains_key(&Node::Function(4)));
        Ok(())
    }

    #[test]
    fn whose_address_is_taken_is_known_by_name() -> Result<()> {
        let wasm = linked("say", &[START, VIEW, HELP, NEEDED, READER, CLASS, STREAM]);
        let graph = Graph::read(&wasm)?;
        assert_eq!(graph.pointed(), BTreeSet::from(["view_later".to_owned()]));
        // Nobody said where data ends that cannot be changed: then all of it can.
        assert_eq!(graph.read_only_end(), 0);
        Ok(())
    }

    fn refusal(wasm: &[u8]) -> String {
        prune(wasm, &KEPT).map_or_else(|error| error.to_string(), |_| String::new())
    }

    #[test]
    fn a_slot_that_can_be_read_is_refused_with_the_way_there() {
        let start = made("start", &[4], &[2, 5]);
        let wasm = linked("say", &[start, VIEW, HELP, NEEDED, READER, CLASS, STREAM]);
        let said = refusal(&wasm);
        assert!(said.contains("read_later <- start"), "{said}");
    }

    #[test]
    fn a_slot_whose_reader_may_lie_in_a_caller_is_refused() {
        let start = made("start", &[8], &[2]);
        let caller = made("call_later_at_once", &[], &[]);
        let wasm = linked(
            "say",
            &[start, VIEW, HELP, NEEDED, READER, CLASS, STREAM, caller],
        );
        let said = refusal(&wasm);
        assert!(said.contains("call_later_at_once <- start"), "{said}");
    }

    #[test]
    fn what_is_called_by_name_is_kept() -> Result<()> {
        let start = made("start", &[2, 4], &[2]);
        let wasm = linked("say", &[start, VIEW, HELP, NEEDED, READER, CLASS, STREAM]);
        let (pruned, _) = prune(&wasm, &KEPT)?;
        assert_eq!(traps(&pruned)?, ["class_stream", "stream"]);
        Ok(())
    }

    #[test]
    fn names_that_match_nothing_are_refused() {
        let other = made("view_at_once", &[3], &[]);
        let wasm = linked("say", &[START, other, HELP, NEEDED, READER, CLASS, STREAM]);
        assert!(refusal(&wasm).contains("view_later"));
        let other = made("reads", &[], &[]);
        let wasm = linked("say", &[START, VIEW, HELP, NEEDED, other, CLASS, STREAM]);
        assert!(refusal(&wasm).contains("read_later"));
        let other = made("no_such", &[7], &[]);
        let wasm = linked("say", &[START, VIEW, HELP, NEEDED, READER, other, STREAM]);
        assert!(refusal(&wasm).contains("class"));
    }

    #[test]
    fn a_class_whose_objects_are_made_is_refused() {
        let wasm = linked(
            "make_class_stream",
            &[START, VIEW, HELP, NEEDED, READER, CLASS, STREAM],
        );
        assert!(refusal(&wasm).contains("make_class_stream"));
    }

    #[test]
    fn a_wasm_without_the_linkers_records_is_refused() {
        assert!(prune(&Module::new().finish(), &KEPT).is_err());
    }
}
