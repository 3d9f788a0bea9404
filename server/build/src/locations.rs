//! Lets all places of one source file in messages of panics be one.
//!
//! Each place where the app may stop brings a record of file, line and column, and a mention of it in the
//! code; no two are alike, so they compress badly. Of each file one record is kept, without line and
//! column: a message still names the file, and a browser's own report the function.
//!
//! Pure: one module in, one out.

use std::collections::{BTreeMap, BTreeSet};

use anyhow::{Context, Result};
use wasm_encoder::{CustomSection, Encode, Section};
use wasmparser::{
    KnownCustom, Linking, Parser, Payload, RelocationEntry, RelocationType, SymbolInfo,
};

/// The length of a record: the file's name, its length, line and column.
const LENGTH: usize = 16;
/// No source file is longer than that, nor any of its lines wider.
const MOST: u32 = 100_000;

/// What of a module is looked at. Places are counted from the beginning of the file.
#[derive(Default)]
struct Sections {
    data: usize,
    segments: Vec<usize>,
    /// Each symbol of a piece of data: where it lies, and its length.
    pieces: BTreeMap<u32, (usize, usize)>,
    of_data: Vec<RelocationEntry>,
}

/// Merges the records of a wasm that was linked with `--emit-relocs`, and gives how many there were and how
/// many are left.
///
/// # Errors
/// When the linker's records cannot be read.
pub fn merge(wasm: &[u8]) -> Result<(Vec<u8>, usize, usize)> {
    let sections = Sections::read(wasm)?;
    let files = sections.locations(wasm)?;
    let mut kept_for = BTreeMap::new();
    let mut bytes = wasm.to_vec();
    for records in files.values() {
        let Some(first) = records.first() else {
            continue;
        };
        for record in records {
            kept_for.insert(*record, *first);
            let (place, length) = sections.pieces[record];
            bytes[place + LENGTH / 2..place + length].fill(0);
        }
    }
    let merged = point_elsewhere(wasm, &bytes, &kept_for)?;
    Ok((merged, kept_for.len(), files.len()))
}

impl Sections {
    fn read(wasm: &[u8]) -> Result<Self> {
        let mut all = Self::default();
        for payload in Parser::new(0).parse_all(wasm) {
            match payload? {
                Payload::DataSection(section) => {
                    all.data = usize::try_from(section.range().start)?;
                    for segment in section {
                        let segment = segment?;
                        let end = usize::try_from(segment.range.end)?;
                        all.segments.push(end - segment.data.len());
                    }
                }
                Payload::CustomSection(section) => match section.as_known() {
                    KnownCustom::Linking(linking) => {
                        for part in linking {
                            if let Linking::SymbolTable(table) = part? {
                                for (number, symbol) in (0..).zip(table) {
                                    all.read_symbol(number, &symbol?)?;
                                }
                            }
                        }
                    }
                    KnownCustom::Reloc(records) if section.name() == "reloc.DATA" => {
                        all.of_data = records.entries().into_iter().collect::<Result<_, _>>()?;
                    }
                    _ => {}
                },
                _ => {}
            }
        }
        Ok(all)
    }

    fn read_symbol(&mut self, number: u32, symbol: &SymbolInfo<'_>) -> Result<()> {
        if let SymbolInfo::Data { symbol, .. } = symbol
            && let Some(defined) = symbol
            && let Some(segment) = self.segments.get(defined.index as usize)
        {
            let place = segment + usize::try_from(defined.offset)?;
            let length = usize::try_from(defined.size)?;
            self.pieces.insert(number, (place, length));
        }
        Ok(())
    }

    /// The symbols of the records of places, by the name of their file.
    fn locations(&self, wasm: &[u8]) -> Result<BTreeMap<Vec<u8>, BTreeSet<u32>>> {
        let mut mentions = BTreeMap::new();
        for entry in &self.of_data {
            mentions.insert(self.data + usize::try_from(entry.offset)?, entry);
        }
        let mut files: BTreeMap<Vec<u8>, BTreeSet<u32>> = BTreeMap::new();
        for (symbol, (place, length)) in &self.pieces {
            if *length != LENGTH || mentions.range(place + 1..place + LENGTH).next().is_some() {
                continue;
            }
            let Some(name) = mentions.get(place) else {
                continue;
            };
            let word = |nth: usize| {
                let bytes = wasm.get(place + 4 * nth..place + 4 * nth + 4)?;
                Some(u32::from_le_bytes(bytes.try_into().ok()?))
            };
            let (Some(size), Some(line), Some(column)) = (word(1), word(2), word(3)) else {
                continue;
            };
            let file = self.pieces.get(&name.index).and_then(|(text, _)| {
                let start = text.checked_add_signed(isize::try_from(name.addend).ok()?)?;
                wasm.get(start..start.checked_add(size as usize)?)
            });
            let Some(file) = file.filter(|file| file.ends_with(b".rs")) else {
                continue;
            };
            if (1..MOST).contains(&line) && (1..MOST).contains(&column) {
                files.entry(file.to_vec()).or_default().insert(*symbol);
            }
        }
        Ok(files)
    }
}

/// The module with `bytes` in place of its own, in whose code other symbols are mentioned.
fn point_elsewhere(wasm: &[u8], bytes: &[u8], instead: &BTreeMap<u32, u32>) -> Result<Vec<u8>> {
    let mut out = Vec::with_capacity(bytes.len());
    let mut end = 8;
    for payload in Parser::new(0).parse_all(wasm) {
        let payload = payload?;
        let Some((_, range)) = payload.as_section() else {
            continue;
        };
        let start = end;
        end = usize::try_from(range.end)?;
        if let Payload::CustomSection(section) = &payload
            && section.name() == "reloc.CODE"
            && let KnownCustom::Reloc(records) = section.as_known()
        {
            let mut data = Vec::new();
            records.section_index().encode(&mut data);
            records.entries().count().encode(&mut data);
            let mut entries = records.entries().into_iter_with_offsets().peekable();
            while let Some(entry) = entries.next() {
                let (from, entry) = entry?;
                let to = match entries.peek() {
                    Some(Ok((next, _))) => usize::try_from(*next)?,
                    _ => end,
                };
                let symbol = is_address(entry.ty)
                    .then(|| instead.get(&entry.index))
                    .flatten();
                match symbol {
                    Some(symbol) => {
                        data.push(wasm[usize::try_from(from)?]);
                        entry.offset.encode(&mut data);
                        symbol.encode(&mut data);
                        i32::try_from(entry.addend)
                            .context("an address is too far away")?
                            .encode(&mut data);
                    }
                    None => data.extend_from_slice(&wasm[usize::try_from(from)?..to]),
                }
            }
            CustomSection {
                name: section.name().into(),
                data: data.into(),
            }
            .append_to(&mut out);
        } else {
            out.extend_from_slice(&bytes[start..end]);
        }
    }
    Ok([&bytes[..8], &out].concat())
}

/// Whether a mention is the address of a piece of data in the code.
fn is_address(kind: RelocationType) -> bool {
    matches!(
        kind,
        RelocationType::MemoryAddrLeb | RelocationType::MemoryAddrSleb
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    use wasm_encoder::{
        CodeSection, ConstExpr, DataSection, DataSymbolDefinition, FunctionSection, LinkingSection,
        MemorySection, MemoryType, Module, SymbolTable, TypeSection,
    };

    /// Names of files, one after the other, and records of places: which file, line and column.
    const FILES: [&str; 2] = ["app/src/a.rs", "app/src/b.rs"];
    const RECORDS: [(u32, u32, u32); 4] = [(0, 7, 5), (1, 9, 1), (0, 70, 50), (0, 700, 9)];

    /// A module whose only function mentions every record. What follows the records looks like one, but for
    /// its line.
    fn linked() -> Vec<u8> {
        let (mut data, mut symbols) = (Vec::new(), SymbolTable::new());
        let mut define = |offset: usize, size: usize| {
            let number = |number: usize| u32::try_from(number).unwrap_or_default();
            let (offset, size) = (number(offset), number(size));
            let defined = DataSymbolDefinition {
                index: 0,
                offset,
                size,
            };
            symbols.data(0, "", Some(defined));
        };
        for name in FILES {
            define(data.len(), name.len());
            data.extend(name.bytes());
        }
        let mut of_data = Vec::new();
        for (file, line, column) in RECORDS.into_iter().chain([(0, 0, 5)]) {
            define(data.len(), LENGTH);
            of_data.push((data.len(), file));
            for word in [0, 12, line, column] {
                data.extend(u32::to_le_bytes(word));
            }
        }
        let mut types = TypeSection::new();
        types.ty().function([], []);
        let mut kinds = FunctionSection::new();
        kinds.function(0);
        let mut memories = MemorySection::new();
        memories.memory(MemoryType {
            minimum: 1,
            maximum: None,
            memory64: false,
            shared: false,
            page_size_log2: None,
        });
        let mut body = vec![0];
        let mut of_code = Vec::new();
        for record in 0..=RECORDS.len() {
            body.push(0x41);
            of_code.push((2 + body.len(), FILES.len() + record));
            body.extend([0x80, 0x80, 0x80, 0x80, 0x00, 0x1a]);
        }
        body.push(0x0b);
        let mut code = CodeSection::new();
        code.raw(&body);
        let mut section = DataSection::new();
        section.active(0, &ConstExpr::i32_const(0), data);
        let mut linking = LinkingSection::new();
        linking.symbol_table(&symbols);
        // Behind the number of segments, the segment's kind, its place and its length.
        let into_data = 1 + 1 + 3 + 1;
        let of_data: Vec<_> = of_data
            .iter()
            .map(|(place, file)| (into_data + place, *file as usize))
            .collect();
        let mut module = Module::new();
        module
            .section(&types)
            .section(&kinds)
            .section(&memories)
            .section(&code)
            .section(&section)
            .section(&linking)
            .section(&relocs("reloc.CODE", 3, 4, &of_code))
            .section(&relocs("reloc.DATA", 4, 5, &of_data));
        module.finish()
    }

    /// Mentions: where, and of which symbol.
    fn relocs(
        name: &'static str,
        section: u32,
        kind: u8,
        all: &[(usize, usize)],
    ) -> CustomSection<'static> {
        let mut data = Vec::new();
        section.encode(&mut data);
        all.len().encode(&mut data);
        for (place, symbol) in all {
            data.push(kind);
            place.encode(&mut data);
            symbol.encode(&mut data);
            0_i32.encode(&mut data);
        }
        CustomSection {
            name: name.into(),
            data: data.into(),
        }
    }

    #[test]
    fn one_place_is_left_of_each_file() -> Result<()> {
        let wasm = linked();
        let sections = Sections::read(&wasm)?;
        assert_eq!(sections.pieces.len(), FILES.len() + RECORDS.len() + 1);
        let (merged, before, left) = merge(&wasm)?;
        assert_eq!((before, left), (4, 2));
        let mut mentioned = Vec::new();
        for payload in Parser::new(0).parse_all(&merged) {
            if let Payload::CustomSection(section) = payload?
                && section.name() == "reloc.CODE"
                && let KnownCustom::Reloc(records) = section.as_known()
            {
                for entry in records.entries() {
                    mentioned.push(entry?.index);
                }
            }
        }
        // The last one is no place, and stays what it was.
        assert_eq!(mentioned, [2, 3, 2, 2, 6]);
        let words = |symbol: u32| -> Vec<u8> {
            let (place, length) = sections.pieces[&symbol];
            merged[place..place + length].to_vec()
        };
        assert_eq!(words(0), FILES[0].as_bytes());
        for record in 2..6 {
            assert_eq!(words(record)[..8], [0, 0, 0, 0, 12, 0, 0, 0]);
            assert_eq!(words(record)[8..], [0; 8]);
        }
        assert_eq!(words(6)[12..], [5, 0, 0, 0]);
        Ok(())
    }

    #[test]
    fn a_wasm_without_records_stays_as_it_is() -> Result<()> {
        let empty = Module::new().finish();
        assert_eq!(merge(&empty)?, (empty, 0, 0));
        Ok(())
    }
}
