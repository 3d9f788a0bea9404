//! Gives the main wasm the script that connects it with the browser, with short names for what one asks
//! of the other and with the loader of the parts.
//!
//! Pure: modules and a script in, a module and a script out. Must not know which parts there are, nor where
//! files lie.

use std::collections::{BTreeMap, BTreeSet, HashMap};

use anyhow::{Context, Result, ensure};
use wasm_bindgen_cli_support::Bindgen;
use wasmparser::{Parser, Payload};

use crate::prune::DEAD;
use crate::split::{LOADER_MODULE, LOADER_PREFIX};

/// What the script and the wasm are called; wasm-bindgen adds an ending to the latter.
const NAME: &str = "evenloop";
/// The loader of parts, which lacks their names.
const LOADER: &str = include_str!("parts.js");
/// Where their names go.
const LOADER_PARTS: &str = "/** @type {Record<string, string[]>} */ ({})";

/// The main wasm and its script.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bound {
    /// An ES module.
    pub script: String,
    /// The wasm that the script starts.
    pub wasm: Vec<u8>,
}

/// Whether names that end in a hash are made short.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Names {
    /// As wasm-bindgen gave them.
    Kept,
    /// Hashes cannot be compressed, and stand in both files.
    Shortened,
}

/// Binds the main module of a split wasm.
///
/// # Errors
/// When wasm-bindgen refuses it, or it asks for files beside the script.
pub fn bind(main: Vec<u8>, names: Names) -> Result<Bound> {
    let mut bindgen = Bindgen::new();
    bindgen.web(true)?;
    let mut output = bindgen
        .input_bytes(NAME, main)
        .typescript(false)
        .omit_default_module_path(true)
        // What the linker exports is what the parts hold on to.
        .keep_lld_exports(true)
        .generate_output()
        .context("the wasm cannot be bound")?;
    ensure!(
        output.snippets().values().all(Vec::is_empty) && output.local_modules().is_empty(),
        "a crate of the app brings scripts of its own, which nothing here knows how to name"
    );
    let mut script = output.js().to_owned();
    if names == Names::Shortened {
        let mut short = HashMap::new();
        for import in output.wasm_mut().imports.iter_mut() {
            if ends_in_hash(&import.name) {
                let next = format!("i{}", short.len());
                let name = short.entry(import.name.clone()).or_insert(next);
                ensure!(
                    script.contains(import.name.as_str()),
                    "the wasm asks for {}, which its script does not have",
                    import.name
                );
                import.name.clone_from(name);
            }
        }
        script = lean(&renamed(&script, &short));
    }
    Ok(Bound {
        script,
        wasm: output.wasm_mut().emit_wasm(),
    })
}

/// The script without what only people read, and without classes whose objects can only be made by a wasm that
/// has none to make: [`DEAD`] says which, and that it is so.
fn lean(script: &str) -> String {
    let in_text = |line: &str| !line.matches('`').count().is_multiple_of(2);
    let is_comment =
        |line: &str| line.starts_with("//") || line.starts_with('*') || line.starts_with("/**");
    let mut lines = Vec::new();
    let mut dead: Option<String> = None;
    for line in script.lines() {
        let code = line.trim();
        if let Some(class) = dead_class(code) {
            dead = Some(class.to_owned());
        }
        if let Some(class) = &dead {
            // The last line of what belongs to a class.
            if code.starts_with(&format!("if (Symbol.dispose) {class}."))
                || code.starts_with(": new ")
            {
                dead = None;
            }
        } else if !code.is_empty() && !is_comment(code) {
            lines.push(code);
        }
    }
    let left = || lines.iter().any(|line| dead_name(line));
    // Where wasm-bindgen writes otherwise than is known here, its script stays as it was.
    if dead.is_some() || lines.iter().any(|line| in_text(line)) || left() {
        return script.to_owned();
    }
    lines.push("");
    lines.join("\n")
}

/// The class that begins in a line, or whose registry does, if it is a dead one.
fn dead_class(line: &str) -> Option<&str> {
    let class = if let Some(rest) = line.strip_prefix("export class ") {
        rest.split(' ').next()?
    } else {
        let rest = line.strip_prefix("const ")?;
        rest.split_once("Finalization = ")?.0
    };
    dead_name(class).then_some(class)
}

fn dead_name(line: &str) -> bool {
    let line = line.to_ascii_lowercase();
    DEAD.classes.iter().any(|class| line.contains(class))
}

/// Whether wasm-bindgen put a hash at the end of a name.
fn ends_in_hash(name: &str) -> bool {
    name.starts_with("__wbg_")
        && name.rsplit_once('_').is_some_and(|(_, hash)| {
            hash.len() == 16 && hash.bytes().all(|byte| byte.is_ascii_hexdigit())
        })
}

/// The script with other names, which stand in it as words of their own.
fn renamed(script: &str, names: &HashMap<String, String>) -> String {
    let in_word = |c: char| c == '_' || c.is_ascii_alphanumeric();
    let mut out = String::with_capacity(script.len());
    let mut rest = script;
    while let Some(start) = rest.find(in_word) {
        out.push_str(&rest[..start]);
        rest = &rest[start..];
        let end = rest.find(|c| !in_word(c)).unwrap_or(rest.len());
        let word = &rest[..end];
        out.push_str(names.get(word).map_or(word, String::as_str));
        rest = &rest[end..];
    }
    out.push_str(rest);
    out
}

/// The script with the loader of parts in it, told which files each part is made of.
///
/// wasm-bindgen writes an import of the loader's module for each part. The loader needs the script as
/// much as the script needs it, so it stands in the script itself and is one file less to fetch.
///
/// # Errors
/// When the wasm asks for other parts than there are, or the script does not ask for them in the way
/// that is known here.
pub fn with_loader(bound: &Bound, parts: &BTreeMap<String, Vec<String>>) -> Result<String> {
    let asked = asked_parts(&bound.wasm)?;
    let there: BTreeSet<&str> = parts.keys().map(String::as_str).collect();
    ensure!(
        asked == there,
        "the wasm asks for the parts {asked:?}, and there are {there:?}"
    );
    if asked.is_empty() {
        return Ok(format!("{}{LOADER}", bound.script));
    }
    let module = format!("\"{LOADER_MODULE}\"");
    let (mut imported, mut given) = (0, 0);
    let mut script = String::with_capacity(bound.script.len() + LOADER.len());
    for line in bound.script.lines() {
        if line.starts_with("import * as ") && line.contains(&module) {
            imported += 1;
        } else if line.trim_start().starts_with(&module) {
            // In the list of what the wasm asks for; one entry of a name is enough.
            given += 1;
            if given == 1 {
                script.push_str(&module);
                script.push_str(": parts,\n");
            }
        } else {
            script.push_str(line);
            script.push('\n');
        }
    }
    ensure!(
        imported == asked.len()
            && given == asked.len()
            && !script.contains(&format!("from {module}")),
        "the script asks for the loader of parts in another way than is known here"
    );
    ensure!(
        LOADER.contains(LOADER_PARTS),
        "the loader has no place for the names of the parts"
    );
    script.push_str(&LOADER.replace(LOADER_PARTS, &serde_json::to_string(parts)?));
    Ok(script)
}

/// The parts whose loaders a wasm asks for.
fn asked_parts(wasm: &[u8]) -> Result<BTreeSet<&str>> {
    let mut asked = BTreeSet::new();
    for payload in Parser::new(0).parse_all(wasm) {
        if let Payload::ImportSection(imports) = payload? {
            for import in imports.into_imports() {
                let import = import?;
                if import.module == LOADER_MODULE {
                    let part = import.name.strip_prefix(LOADER_PREFIX);
                    asked.insert(part.context("something else is asked of the loader of parts")?);
                }
            }
        }
    }
    Ok(asked)
}

#[cfg(test)]
mod tests {
    use super::*;

    use wasm_encoder::{EntityType, ImportSection, Module, TypeSection};

    fn asking(parts: &[&str]) -> Vec<u8> {
        let mut types = TypeSection::new();
        types.ty().function([], []);
        let mut imports = ImportSection::new();
        for part in parts {
            let name = format!("{LOADER_PREFIX}{part}");
            imports.import(LOADER_MODULE, &name, EntityType::Function(0));
        }
        let mut module = Module::new();
        module.section(&types).section(&imports);
        module.finish()
    }

    fn bound(parts: &[&str]) -> Bound {
        let imports: Vec<String> = (1..=parts.len())
            .map(|part| format!("import * as import{part} from \"{LOADER_MODULE}\"\n"))
            .collect();
        let given: Vec<String> = (1..=parts.len())
            .map(|part| format!("        \"{LOADER_MODULE}\": import{part},\n"))
            .collect();
        Bound {
            script: format!(
                "{}const imports = {{\n{}}};\n",
                imports.concat(),
                given.concat()
            ),
            wasm: asking(parts),
        }
    }

    fn files(parts: &[&str]) -> BTreeMap<String, Vec<String>> {
        parts
            .iter()
            .map(|part| ((*part).to_owned(), vec![format!("split_{part}.wasm")]))
            .collect()
    }

    #[test]
    fn the_loader_stands_in_the_script_and_knows_the_files() -> Result<()> {
        let script = with_loader(&bound(&["now", "keep"]), &files(&["now", "keep"]))?;
        assert!(script.starts_with("const imports = {\n\"./parts\": parts,\n};\n"));
        assert!(script.contains(r#"{"keep":["split_keep.wasm"],"now":["split_now.wasm"]}"#));
        assert!(!script.contains("import *"), "{script}");
        Ok(())
    }

    #[test]
    fn a_build_without_parts_still_has_what_compiles_its_wasm() -> Result<()> {
        let bound = bound(&[]);
        let script = with_loader(&bound, &files(&[]))?;
        assert!(script.starts_with(&bound.script));
        assert!(script.contains("export async function compiled("));
        Ok(())
    }

    #[test]
    fn parts_that_are_missing_or_never_asked_for_are_refused() {
        assert!(with_loader(&bound(&["now"]), &files(&[])).is_err());
        assert!(with_loader(&bound(&["now"]), &files(&["now", "keep"])).is_err());
    }

    #[test]
    fn another_form_of_the_script_is_refused() {
        let mut bound = bound(&["now"]);
        bound.script = bound
            .script
            .replace("import * as import1", "import import1");
        assert!(with_loader(&bound, &files(&["now"])).is_err());
    }

    #[test]
    fn a_script_is_left_without_what_only_people_read_and_without_dead_classes() {
        let script = "/**\n * Made by hand.\n */\nexport class IntoUnderlyingSink {\n    free() {\n    }\n}\n\
            if (Symbol.dispose) IntoUnderlyingSink.prototype[Symbol.dispose] = IntoUnderlyingSink.prototype.free;\n\n\
            // why\n    f(`a ${b}`);\n\
            const IntoUnderlyingSinkFinalization = (typeof FinalizationRegistry === 'undefined')\n    \
            ? { register: () => {} }\n    : new FinalizationRegistry(ptr => free(ptr));\n\tg();\n";
        assert_eq!(lean(script), "f(`a ${b}`);\ng();\n");
        for otherwise in [
            "  f(`a\n  b`);\n",
            "  f(new IntoUnderlyingSink());\n",
            "  export class IntoUnderlyingSink {\n  }\n",
        ] {
            assert_eq!(lean(otherwise), otherwise);
        }
    }

    #[test]
    fn only_whole_words_are_renamed() {
        let long = "__wbg_get_0123456789abcdef".to_owned();
        assert!(ends_in_hash(&long));
        assert!(!ends_in_hash("__wbg_get_0123"));
        assert!(!ends_in_hash("get_0123456789abcdef"));
        let names = HashMap::from([(long.clone(), "i0".to_owned())]);
        assert_eq!(
            renamed(&format!("{long}: {long}_2, x{long}"), &names),
            format!("i0: {long}_2, x{long}")
        );
    }
}
