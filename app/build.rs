//! Makes the made-up language where it is asked for (see `engine/build/made_up.rs`).

#[cfg(feature = "made-up-language")]
#[path = "engine/build/made_up.rs"]
mod made_up;

#[cfg(feature = "made-up-language")]
fn main() -> Result<(), Box<dyn std::error::Error>> {
    made_up::write("src/text/english")
}

#[cfg(not(feature = "made-up-language"))]
fn main() {
    println!("cargo::rerun-if-changed=build.rs");
}
