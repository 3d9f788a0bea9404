//! Puts the schema of a recipe, as the engine's types have it, into the server's description.
//!
//! `cargo run --release --package evenloop-tests --example recipe_schema`

use std::error::Error;
use std::fs;

use evenloop_tests::description;

fn main() -> Result<(), Box<dyn Error>> {
    let path = description::path();
    let text = fs::read_to_string(&path)?;
    fs::write(&path, description::with_recipe(&text)?)?;
    Ok(())
}
