//! The server's written description, `server/openapi.json`. The schema of a recipe in it is made from
//! the engine's types.

use std::io::{Error, ErrorKind};
use std::path::PathBuf;

use evenloop_engine::recipe;
use serde_json::Value;

use crate::server::root;

const BEGIN: &str = "\n      \"Recipe\": {";
const END: &str = "\n      },";

/// Where it lies.
pub fn path() -> PathBuf {
    root().join("server/openapi.json")
}

/// The description as it is.
pub fn document() -> Value {
    let text = std::fs::read_to_string(path()).expect("the description is there");
    serde_json::from_str(&text).expect("it is JSON")
}

/// The text of a description with the schema of a recipe as the engine has it.
///
/// # Errors
/// When the text has no place for it.
pub fn with_recipe(text: &str) -> Result<String, Error> {
    let wrong = || Error::new(ErrorKind::InvalidData, "no schema of a recipe is there");
    let (before, rest) = text.split_once(BEGIN).ok_or_else(wrong)?;
    let (_, after) = rest.split_once(END).ok_or_else(wrong)?;
    let schema = serde_json::to_string_pretty(&recipe::schema())?;
    let schema = schema.replace('\n', "\n      ");
    Ok(format!("{before}\n      \"Recipe\": {schema},{after}"))
}
