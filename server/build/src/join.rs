//! Joins the modules that lie in one file into one module.
//!
//! Where the app was split ([`crate::split`]), a module calls another one's function through its slot in the
//! table that all share: a function of its own for each one called, in each module. In one module such a call
//! is a plain one, what the slots were for is left out, and wasm-opt sees the whole.
//!
//! What several files need lies in each of them, so a browser may start it more than once. That does no
//! harm: the second start puts the same functions in the same slots, and writes the same bytes over data
//! that cannot have been changed. What can be changed is moved to the main module, which is started
//! once.
//!
//! Pure: modules in, one module out. Must not know how they were divided among files.

use std::collections::{BTreeMap, BTreeSet};

use anyhow::{Context, Result, anyhow, bail, ensure};
use wasm_encoder::reencode::{Error as ReencodeError, Reencode};
use wasm_encoder::{
    CodeSection, ConstExpr, DataCountSection, DataSection, ElementSection, Elements,
    FunctionSection, ImportSection, Module, NameMap, NameSection, RawSection, SectionId,
};
use wasmparser::{
    DataKind, ElementItems, ElementKind, FunctionBody, Import, KnownCustom, Name, Operator, Parser,
    Payload, TypeRef,
};

/// How the splitter's name of a function ends that only calls another module's through its slot.
const SHIM: &str = " indirect_call_shim";

/// The main module and the files.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Joined {
    /// The main module, with all data that can be changed.
    pub main: Vec<u8>,
    /// The files' modules, by the files' names.
    pub files: BTreeMap<String, Vec<u8>>,
}

/// What is known of the wasm that was split.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Known {
    /// The names of functions that may be called through a pointer.
    pub pointed: BTreeSet<String>,
    /// The address behind the read-only data.
    pub read_only_end: i32,
}

/// Joins modules: `files` says which lie in each.
///
/// # Errors
/// When a module is not as the splitter makes them, or a file needs one that is not there.
pub fn join(
    main: &[u8],
    modules: &BTreeMap<String, Vec<u8>>,
    files: &BTreeMap<String, Vec<String>>,
    known: &Known,
) -> Result<Joined> {
    let mut pieces = BTreeMap::new();
    for (name, module) in modules {
        let piece = ModulePiece::read(module);
        let piece = piece.with_context(|| format!("the module {name} cannot be joined"))?;
        pieces.insert(name.as_str(), piece);
    }
    let mut drafts = BTreeMap::new();
    for (file, held) in files {
        let held = held.iter().map(|name| {
            let piece = pieces.get(name.as_str());
            piece.with_context(|| format!("there is no module {name}"))
        });
        drafts.insert(file.as_str(), Draft::of(held.collect::<Result<_>>()?)?);
    }
    // Slots through which a module calls one that lies in another file.
    let mut called: BTreeSet<u32> = shims_of(main)?.into_iter().collect();
    called.extend(drafts.values().flat_map(|draft| &draft.called));
    let changeable: Vec<Data<'_>> = pieces
        .values()
        .flat_map(|piece| &piece.data)
        .filter(|data| data.end() > known.read_only_end)
        .copied()
        .collect();
    let mut made = BTreeMap::new();
    for (file, draft) in &drafts {
        let whole = draft.emit(&called, known);
        let whole = whole.with_context(|| format!("the modules of {file} cannot be joined"))?;
        made.insert((*file).to_owned(), whole);
    }
    Ok(Joined {
        main: with_data(main, &changeable)?,
        files: made,
    })
}

/// Bytes and their address.
#[derive(Debug, Clone, Copy)]
struct Data<'a> {
    address: i32,
    bytes: &'a [u8],
}

impl Data<'_> {
    fn end(&self) -> i32 {
        let length = i32::try_from(self.bytes.len()).unwrap_or(i32::MAX);
        self.address.saturating_add(length)
    }
}

/// A call through a slot: its number and the function's type.
type SlotCall = (u32, u32);

/// A module, taken apart.
struct ModulePiece<'a> {
    types: &'a [u8],
    imports: Vec<Import<'a>>,
    /// Of each function: its type and its body.
    functions: Vec<(u32, FunctionBody<'a>)>,
    names: BTreeMap<u32, &'a str>,
    /// Which function each slot holds.
    slots: Vec<(u32, u32)>,
    data: Vec<Data<'a>>,
}

impl<'a> ModulePiece<'a> {
    fn read(module: &'a [u8]) -> Result<Self> {
        let mut piece = Self {
            types: &[],
            imports: Vec::new(),
            functions: Vec::new(),
            names: BTreeMap::new(),
            slots: Vec::new(),
            data: Vec::new(),
        };
        let mut kinds = Vec::new();
        let mut bodies = Vec::new();
        for payload in Parser::new(0).parse_all(module) {
            match payload? {
                Payload::TypeSection(types) => {
                    let range = types.range();
                    piece.types =
                        &module[usize::try_from(range.start)?..usize::try_from(range.end)?];
                }
                Payload::ImportSection(imports) => {
                    for import in imports.into_imports() {
                        let import = import?;
                        ensure!(
                            !matches!(import.ty, TypeRef::Func(_) | TypeRef::FuncExact(_)),
                            "it asks for the function {}",
                            import.name
                        );
                        piece.imports.push(import);
                    }
                }
                Payload::FunctionSection(all) => {
                    kinds = all.into_iter().collect::<Result<_, _>>()?;
                }
                Payload::CodeSectionEntry(body) => bodies.push(body),
                Payload::ElementSection(all) => {
                    for element in all {
                        let element = element?;
                        let ElementKind::Active { offset_expr, .. } = element.kind else {
                            bail!("its functions lie in no slots");
                        };
                        let ElementItems::Functions(functions) = element.items else {
                            bail!("its slots hold something else than functions");
                        };
                        let first = u32::try_from(number(&offset_expr)?)?;
                        for (slot, function) in (first..).zip(functions) {
                            piece.slots.push((slot, function?));
                        }
                    }
                }
                Payload::DataSection(all) => {
                    for data in all {
                        let data = data?;
                        let DataKind::Active { offset_expr, .. } = data.kind else {
                            bail!("it has data without an address");
                        };
                        if !data.data.is_empty() {
                            piece.data.push(Data {
                                address: number(&offset_expr)?,
                                bytes: data.data,
                            });
                        }
                    }
                }
                Payload::CustomSection(section) => {
                    if let KnownCustom::Name(names) = section.as_known() {
                        for name in names {
                            if let Name::Function(functions) = name? {
                                for naming in functions {
                                    let naming = naming?;
                                    piece.names.insert(naming.index, naming.name);
                                }
                            }
                        }
                    }
                }
                Payload::ExportSection(exports) => {
                    ensure!(exports.count() == 0, "it exports something");
                }
                Payload::TableSection(_)
                | Payload::MemorySection(_)
                | Payload::GlobalSection(_)
                | Payload::TagSection(_)
                | Payload::StartSection { .. } => bail!("it has more than functions and data"),
                _ => {}
            }
        }
        ensure!(kinds.len() == bodies.len(), "functions lack their bodies");
        piece.functions = kinds.into_iter().zip(bodies).collect();
        Ok(piece)
    }

    /// The function's call through a slot, if it does nothing else.
    fn shim(&self, function: u32) -> Result<Option<SlotCall>> {
        let named = self.names.get(&function);
        if !named.is_some_and(|name| name.ends_with(SHIM)) {
            return Ok(None);
        }
        let (kind, body) = self.function(function)?;
        Ok(slot_call(body)?.map(|slot| (slot, *kind)))
    }

    fn function(&self, function: u32) -> Result<&(u32, FunctionBody<'a>)> {
        let found = self.functions.get(function as usize);
        found.context("a function is not there")
    }
}

/// The number that an expression gives.
fn number(expression: &wasmparser::ConstExpr<'_>) -> Result<i32> {
    match expression.get_operators_reader().read()? {
        Operator::I32Const { value } => Ok(value),
        _ => bail!("a place is no number"),
    }
}

/// The slot that a function hands its arguments on to, if it does nothing else.
fn slot_call(body: &FunctionBody<'_>) -> Result<Option<u32>> {
    let mut slot = None;
    let mut called = false;
    for operator in body.get_operators_reader()? {
        match operator? {
            Operator::LocalGet { .. } if slot.is_none() => {}
            Operator::I32Const { value } if slot.is_none() => slot = u32::try_from(value).ok(),
            Operator::CallIndirect { .. } if slot.is_some() && !called => called = true,
            Operator::End if called => {}
            _ => return Ok(None),
        }
    }
    Ok(slot)
}

/// The slots that the main module calls through.
fn shims_of(main: &[u8]) -> Result<Vec<u32>> {
    let mut imported = 0;
    let mut bodies = Vec::new();
    let mut shims = Vec::new();
    for payload in Parser::new(0).parse_all(main) {
        match payload? {
            Payload::ImportSection(imports) => {
                for import in imports.into_imports() {
                    if matches!(import?.ty, TypeRef::Func(_) | TypeRef::FuncExact(_)) {
                        imported += 1;
                    }
                }
            }
            Payload::CodeSectionEntry(body) => bodies.push(body),
            Payload::CustomSection(section) => {
                let KnownCustom::Name(names) = section.as_known() else {
                    continue;
                };
                for name in names {
                    let Name::Function(functions) = name? else {
                        continue;
                    };
                    for naming in functions {
                        let naming = naming?;
                        if naming.name.ends_with(SHIM) {
                            shims.push(naming.index);
                        }
                    }
                }
            }
            _ => {}
        }
    }
    let slot = |shim: &u32| {
        let body = shim
            .checked_sub(imported)
            .and_then(|at| bodies.get(at as usize));
        slot_call(body.context("a function is not there")?)?
            .with_context(|| format!("function {shim} of the main module calls through no slot"))
    };
    shims.iter().map(slot).collect()
}

/// A function of a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct PieceFunction {
    piece: usize,
    function: u32,
}

/// A file's module before it is written.
struct Draft<'p, 'a> {
    pieces: Vec<&'p ModulePiece<'a>>,
    /// Its functions in their order.
    functions: Vec<PieceFunction>,
    /// The new number of each piece's functions.
    places: Vec<Vec<u32>>,
    /// The slots of other files' modules that are called through.
    called: BTreeSet<u32>,
}

impl<'p, 'a> Draft<'p, 'a> {
    fn of(pieces: Vec<&'p ModulePiece<'a>>) -> Result<Self> {
        let mut held: BTreeMap<u32, PieceFunction> = BTreeMap::new();
        for (piece, all) in pieces.iter().enumerate() {
            for (slot, function) in &all.slots {
                let function = *function;
                held.insert(*slot, PieceFunction { piece, function });
            }
        }
        let mut functions = Vec::new();
        let mut numbers: BTreeMap<PieceFunction, u32> = BTreeMap::new();
        let mut origins = Vec::new();
        // One call through a slot is enough for all pieces.
        let mut outside: BTreeMap<SlotCall, PieceFunction> = BTreeMap::new();
        for (piece, all) in pieces.iter().enumerate() {
            let mut of_piece = Vec::new();
            for function in 0..u32::try_from(all.functions.len())? {
                let own = PieceFunction { piece, function };
                let origin = match all.shim(function)? {
                    None => own,
                    Some(call) => match held.get(&call.0) {
                        Some(origin) => *origin,
                        None => *outside.entry(call).or_insert(own),
                    },
                };
                if origin == own {
                    numbers.insert(origin, u32::try_from(functions.len())?);
                    functions.push(origin);
                }
                of_piece.push(origin);
            }
            origins.push(of_piece);
        }
        let number = |origin: &PieceFunction| numbers.get(origin).copied();
        let places = origins.iter().map(|of_piece| {
            let all = of_piece.iter().map(number).collect::<Option<Vec<u32>>>();
            all.context("a slot holds a function that only calls another")
        });
        Ok(Self {
            places: places.collect::<Result<_>>()?,
            pieces,
            functions,
            called: outside.into_keys().map(|(slot, _)| slot).collect(),
        })
    }

    /// Writes the module. A slot is kept where it is called through from elsewhere or pointed at.
    fn emit(&self, called: &BTreeSet<u32>, known: &Known) -> Result<Vec<u8>> {
        let first = self.pieces.first().context("there are none")?;
        let mut imports: Vec<Import<'_>> = Vec::new();
        for piece in &self.pieces {
            ensure!(piece.types == first.types, "their types differ");
            for import in &piece.imports {
                if !imports.iter().any(|other| same(other, import)) {
                    imports.push(*import);
                }
            }
        }
        let mut module = Module::new();
        module.section(&RawSection {
            id: SectionId::Type.into(),
            data: first.types,
        });
        let mut section = ImportSection::new();
        for import in &imports {
            let kind = Plain.entity_type(import.ty).map_err(unencoded)?;
            section.import(import.module, import.name, kind);
        }
        module.section(&section);
        let mut kinds = FunctionSection::new();
        let mut code = CodeSection::new();
        let mut names = NameMap::new();
        for (number, PieceFunction { piece, function }) in (0..).zip(&self.functions) {
            let of = self.pieces[*piece];
            let (kind, body) = of.function(*function)?;
            kinds.function(*kind);
            let mut moved = Moved {
                functions: &self.places[*piece],
                globals: places_of(of, &imports, is_global),
                tables: places_of(of, &imports, is_table),
                memories: places_of(of, &imports, is_memory),
            };
            moved
                .parse_function_body(&mut code, body.clone())
                .map_err(unencoded)?;
            if let Some(name) = of.names.get(function) {
                names.append(number, name);
            }
        }
        module.section(&kinds);
        let mut slots = BTreeMap::new();
        for (piece, places) in self.pieces.iter().zip(&self.places) {
            for (slot, function) in &piece.slots {
                let name = piece.names.get(function);
                if called.contains(slot) || name.is_none_or(|name| known.pointed.contains(*name)) {
                    let place = places.get(*function as usize);
                    slots.insert(*slot, *place.context("a slot holds no function")?);
                }
            }
        }
        module.section(&elements(&slots)?);
        let data: Vec<&Data<'_>> = self
            .pieces
            .iter()
            .flat_map(|piece| &piece.data)
            .filter(|data| data.end() <= known.read_only_end)
            .collect();
        module.section(&DataCountSection {
            count: u32::try_from(data.len())?,
        });
        module.section(&code);
        let mut section = DataSection::new();
        for data in data {
            let bytes = data.bytes.iter().copied();
            section.active(0, &ConstExpr::i32_const(data.address), bytes);
        }
        module.section(&section);
        let mut section = NameSection::new();
        section.functions(&names);
        module.section(&section);
        Ok(module.finish())
    }
}

/// Slots with their functions; those that follow each other stand together.
fn elements(slots: &BTreeMap<u32, u32>) -> Result<ElementSection> {
    let mut section = ElementSection::new();
    let mut run: Vec<u32> = Vec::new();
    let mut next = 0;
    let mut close = |run: &mut Vec<u32>, next: u32| -> Result<()> {
        let functions = std::mem::take(run);
        if !functions.is_empty() {
            let start = i32::try_from(next)? - i32::try_from(functions.len())?;
            section.active(
                Some(0),
                &ConstExpr::i32_const(start),
                Elements::Functions(functions.into()),
            );
        }
        Ok(())
    };
    for (slot, function) in slots {
        if *slot != next {
            close(&mut run, next)?;
        }
        run.push(*function);
        next = slot + 1;
    }
    close(&mut run, next)?;
    Ok(section)
}

fn same(one: &Import<'_>, other: &Import<'_>) -> bool {
    (one.module, one.name, one.ty) == (other.module, other.name, other.ty)
}

const fn is_global(kind: TypeRef) -> bool {
    matches!(kind, TypeRef::Global(_))
}

const fn is_table(kind: TypeRef) -> bool {
    matches!(kind, TypeRef::Table(_))
}

const fn is_memory(kind: TypeRef) -> bool {
    matches!(kind, TypeRef::Memory(_))
}

/// The new numbers of what a piece imports of one kind.
fn places_of(
    piece: &ModulePiece<'_>,
    all: &[Import<'_>],
    of_kind: fn(TypeRef) -> bool,
) -> Vec<u32> {
    let kept = piece.imports.iter().filter(|import| of_kind(import.ty));
    kept.filter_map(|import| {
        let mut alike = all.iter().filter(|import| of_kind(import.ty));
        u32::try_from(alike.position(|other| same(other, import))?).ok()
    })
    .collect()
}

/// Writes what is read as it was.
struct Plain;

impl Reencode for Plain {
    type Error = anyhow::Error;
}

/// Writes a function that has moved to another module.
struct Moved<'d> {
    functions: &'d [u32],
    globals: Vec<u32>,
    tables: Vec<u32>,
    memories: Vec<u32>,
}

type Encoded<T> = Result<T, ReencodeError<anyhow::Error>>;

fn moved(places: &[u32], place: u32) -> Encoded<u32> {
    let found = places.get(place as usize).copied();
    found.ok_or_else(|| ReencodeError::UserError(anyhow!("something that is named is not there")))
}

impl Reencode for Moved<'_> {
    type Error = anyhow::Error;

    fn function_index(&mut self, function: u32) -> Encoded<u32> {
        moved(self.functions, function)
    }

    fn global_index(&mut self, global: u32) -> Encoded<u32> {
        moved(&self.globals, global)
    }

    fn table_index(&mut self, table: u32) -> Encoded<u32> {
        moved(&self.tables, table)
    }

    fn memory_index(&mut self, memory: u32) -> Encoded<u32> {
        moved(&self.memories, memory)
    }

    fn data_index(&mut self, _: u32) -> Encoded<u32> {
        let why = anyhow!("data is named that has no address");
        Err(ReencodeError::UserError(why))
    }
}

fn unencoded(error: ReencodeError<anyhow::Error>) -> anyhow::Error {
    anyhow!("{error}")
}

/// A module with more data. Memory begins as zeroes: those need not be written.
fn with_data(module: &[u8], more: &[Data<'_>]) -> Result<Vec<u8>> {
    let more: Vec<&Data<'_>> = more
        .iter()
        .filter(|data| data.bytes.iter().any(|byte| *byte != 0))
        .collect();
    let mut out = Vec::with_capacity(module.len());
    let mut copied = HEAD;
    let mut put = false;
    for payload in Parser::new(0).parse_all(module) {
        let payload = payload?;
        let Some((_, range)) = payload.as_section() else {
            continue;
        };
        let end = usize::try_from(range.end)?;
        let section: Option<Vec<u8>> = match payload {
            Payload::DataCountSection { count, .. } => {
                let count = count + u32::try_from(more.len())?;
                Some(encoded(&DataCountSection { count }))
            }
            Payload::DataSection(all) => {
                let mut section = DataSection::new();
                for data in all {
                    Plain.parse_data(&mut section, data?).map_err(unencoded)?;
                }
                for data in &more {
                    let bytes = data.bytes.iter().copied();
                    section.active(0, &ConstExpr::i32_const(data.address), bytes);
                }
                put = true;
                Some(encoded(&section))
            }
            _ => None,
        };
        match section {
            Some(section) => out.extend(section),
            None => {
                // From the end of the one before, so that the section's own head is in it.
                out.extend_from_slice(&module[copied..end]);
            }
        }
        copied = end;
    }
    ensure!(put || more.is_empty(), "the main module has no data");
    Ok([&module[..HEAD], &out].concat())
}

/// The head of every wasm: what it is, and its version.
const HEAD: usize = 8;

fn encoded(section: &impl wasm_encoder::Section) -> Vec<u8> {
    let mut bytes = Vec::new();
    section.append_to(&mut bytes);
    bytes
}

#[cfg(test)]
mod tests {
    use super::*;

    use wasm_encoder::{EntityType, MemoryType, RefType, TableType, TypeSection};
    use wasmparser::Validator;

    /// A function of a made-up module: its name, and the functions or the slot that it calls.
    enum Made {
        Calls(&'static str, &'static [u32]),
        Slot(&'static str, i32),
    }

    use Made::{Calls, Slot};

    /// A module as the splitter makes them: functions, the slot of the first one, and data.
    fn module(functions: &[Made], slot: Option<i32>, data: &[(i32, &[u8])]) -> Vec<u8> {
        let mut types = TypeSection::new();
        types.ty().function([], []);
        let mut imports = ImportSection::new();
        let table = TableType {
            element_type: RefType::FUNCREF,
            table64: false,
            minimum: 100,
            maximum: None,
            shared: false,
        };
        imports.import("__wasm_split", "table", table);
        let memory = MemoryType {
            minimum: 1,
            maximum: None,
            memory64: false,
            shared: false,
            page_size_log2: None,
        };
        imports.import("__wasm_split", "memory", EntityType::Memory(memory));
        let (mut kinds, mut code) = (FunctionSection::new(), CodeSection::new());
        let mut names = NameMap::new();
        for (number, made) in (0..).zip(functions) {
            kinds.function(0);
            let mut body = wasm_encoder::Function::new([]);
            match made {
                Calls(name, called) => {
                    names.append(number, name);
                    for function in *called {
                        body.instructions().call(*function);
                    }
                    body.instructions().end();
                }
                Slot(name, slot) => {
                    names.append(number, &format!("{name}{SHIM}"));
                    let mut sink = body.instructions();
                    sink.i32_const(*slot).call_indirect(0, 0).end();
                }
            }
            code.function(&body);
        }
        let mut module = Module::new();
        module.section(&types).section(&imports).section(&kinds);
        if let Some(slot) = slot {
            let mut section = ElementSection::new();
            let all: Vec<u32> = (0..).take(functions.len()).collect();
            let held = Elements::Functions(all.into());
            section.active(Some(0), &ConstExpr::i32_const(slot), held);
            module.section(&section);
        }
        let mut section = DataSection::new();
        for (address, bytes) in data {
            section.active(0, &ConstExpr::i32_const(*address), bytes.iter().copied());
        }
        let count = u32::try_from(data.len()).unwrap_or_default();
        module
            .section(&DataCountSection { count })
            .section(&code)
            .section(&section);
        let mut section = NameSection::new();
        section.functions(&names);
        module.section(&section);
        module.finish()
    }

    fn modules(all: Vec<(&str, Vec<u8>)>) -> BTreeMap<String, Vec<u8>> {
        let named = |(name, module): (&str, _)| (name.to_owned(), module);
        all.into_iter().map(named).collect()
    }

    fn files(all: &[(&str, &[&str])]) -> BTreeMap<String, Vec<String>> {
        all.iter()
            .map(|(file, held)| {
                let held = held.iter().map(|name| (*name).to_owned());
                ((*file).to_owned(), held.collect())
            })
            .collect()
    }

    fn known(pointed: &[&str]) -> Known {
        Known {
            pointed: pointed.iter().map(|name| (*name).to_owned()).collect(),
            read_only_end: 1_000,
        }
    }

    /// The functions of a module by name, with the names of those that each calls or the slot.
    fn read(module: &[u8]) -> Result<BTreeMap<String, Vec<String>>> {
        Validator::new().validate_all(module)?;
        let piece = ModulePiece::read(module)?;
        let name = |function: u32| piece.names.get(&function).copied().unwrap_or_default();
        let mut all = BTreeMap::new();
        for (function, (_, body)) in (0..).zip(&piece.functions) {
            let mut called = Vec::new();
            for operator in body.get_operators_reader()? {
                match operator? {
                    Operator::Call { function_index } => called.push(name(function_index).into()),
                    Operator::I32Const { value } => called.push(value.to_string()),
                    _ => {}
                }
            }
            ensure!(
                all.insert(name(function).to_owned(), called).is_none(),
                "{} is there twice",
                name(function)
            );
        }
        Ok(all)
    }

    fn slots(module: &[u8]) -> Result<Vec<(u32, String)>> {
        let piece = ModulePiece::read(module)?;
        let named = piece.slots.iter().map(|(slot, function)| {
            let name = piece.names.get(function).copied().unwrap_or_default();
            (*slot, name.to_owned())
        });
        Ok(named.collect())
    }

    fn three() -> BTreeMap<String, Vec<u8>> {
        modules(vec![
            (
                "help",
                module(&[Calls("help", &[]), Calls("more", &[0])], Some(10), &[]),
            ),
            (
                "now",
                module(
                    &[
                        Calls("now", &[1, 2, 3]),
                        Slot("help", 10),
                        Slot("main", 1),
                        Slot("map", 20),
                    ],
                    None,
                    &[],
                ),
            ),
            (
                "map",
                module(
                    &[Calls("map", &[1, 2]), Slot("help", 10), Slot("main", 1)],
                    Some(20),
                    &[],
                ),
            ),
        ])
    }

    #[test]
    fn calls_within_a_file_are_plain_ones() -> Result<()> {
        let main = module(&[Calls("main", &[])], Some(1), &[]);
        let files = files(&[("all", &["help", "now", "map"])]);
        let joined = join(&main, &three(), &files, &known(&[]))?;
        assert_eq!(joined.main, main);
        let all = read(&joined.files["all"])?;
        assert_eq!(all["now"], ["help", "main indirect_call_shim", "map"]);
        assert_eq!(all["map"], ["help", "main indirect_call_shim"]);
        assert_eq!(all["more"], ["help"]);
        // One for both who call it.
        assert_eq!(all["main indirect_call_shim"], ["1"]);
        assert_eq!(all.len(), 5);
        // Nobody else calls any of them.
        assert_eq!(slots(&joined.files["all"])?, []);
        Ok(())
    }

    #[test]
    fn a_slot_is_kept_that_is_called_from_elsewhere_or_pointed_at() -> Result<()> {
        let main = module(&[Calls("main", &[]), Slot("map", 20)], Some(1), &[]);
        let files = files(&[("now", &["help", "now"]), ("map", &["help", "map"])]);
        let joined = join(&main, &three(), &files, &known(&["more"]))?;
        let now = read(&joined.files["now"])?;
        let calls = ["help", "main indirect_call_shim", "map indirect_call_shim"];
        assert_eq!(now["now"], calls);
        assert_eq!(slots(&joined.files["now"])?, [(11, "more".to_owned())]);
        let kept = [(11, "more".to_owned()), (20, "map".to_owned())];
        assert_eq!(slots(&joined.files["map"])?[..2], kept);
        Ok(())
    }

    #[test]
    fn what_several_files_have_in_common_lies_in_each() -> Result<()> {
        let main = module(&[Calls("main", &[])], Some(1), &[]);
        let files = files(&[("now", &["help", "now"]), ("help", &["help"])]);
        let modules = three();
        let joined = join(&main, &modules, &files, &known(&["help"]))?;
        for file in joined.files.values() {
            assert!(read(file)?.contains_key("help"));
            assert_eq!(slots(file)?[0], (10, "help".to_owned()));
        }
        Ok(())
    }

    #[test]
    fn data_that_can_be_changed_goes_to_the_main_module() -> Result<()> {
        let main = module(&[Calls("main", &[])], Some(1), &[(8, b"main")]);
        let help = module(
            &[Calls("help", &[])],
            Some(10),
            &[(16, b"read only"), (1_000, b"changed"), (1_100, &[0; 9])],
        );
        let files = files(&[("a", &["help"]), ("b", &["help"])]);
        let joined = join(
            &main,
            &modules(vec![("help", help)]),
            &files,
            &known(&["help"]),
        )?;
        Validator::new().validate_all(&joined.main)?;
        let lies_in = |module: &[u8]| -> Result<Vec<(i32, Vec<u8>)>> {
            let piece = ModulePiece::read(module)?;
            let all = piece
                .data
                .iter()
                .map(|data| (data.address, data.bytes.to_vec()));
            Ok(all.collect())
        };
        // Zeroes are there from the beginning.
        let all = [(8, b"main".to_vec()), (1_000, b"changed".to_vec())];
        assert_eq!(lies_in(&joined.main)?, all);
        for file in joined.files.values() {
            assert_eq!(lies_in(file)?, [(16, b"read only".to_vec())]);
        }
        Ok(())
    }

    #[test]
    fn what_is_missing_or_of_another_kind_is_refused() {
        let main = module(&[Calls("main", &[])], Some(1), &[]);
        let refusal = |modules: &BTreeMap<String, Vec<u8>>, main: &[u8]| {
            let files = files(&[("now", &["help", "now"])]);
            let joined = join(main, modules, &files, &known(&[]));
            joined.map_or_else(|error| format!("{error:#}"), |_| String::new())
        };
        assert_eq!(refusal(&three(), &main), "");
        let said = refusal(&modules(vec![("help", main.clone())]), &main);
        assert!(said.contains("no module now"), "{said}");
        let mut broken = three();
        broken.insert("help".to_owned(), b"\0asm".to_vec());
        assert!(refusal(&broken, &main).contains("help"));
        let odd = module(&[Calls("odd indirect_call_shim", &[])], None, &[]);
        assert!(refusal(&three(), &odd).contains("through no slot"));
    }
}
