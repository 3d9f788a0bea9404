//! A whole recipe in an address: everything the knitter chose, and nothing about who knits it.
//!
//! The form is a version digit and, in base64url without padding (RFC 4648, section 5), the recipe
//! document without what is the default's. Defaults are part of the form therefore: the day one of
//! them changes, the version does too.
//!
//! Pure. May use recipes and their written form; must not know which page an address leads to.

use serde::{Serialize, Serializer};

use crate::json::from_json;
use crate::recipe::Recipe;
use crate::recipe::earlier::{EarlierChoices, needs_fourth_form};
use crate::wire::RECIPE_LIMIT;

/// The first form.
const FIRST: u8 = b'1';
/// The newest form. The second one has the swatch's needles. In the third one corners are picked up and
/// the cuff is bound off stretchily where nothing is said. The fourth one has choices that an earlier
/// Evenloop does not know; a recipe without them is written in the third.
const NEWEST: u8 = b'4';
/// The oldest form in which what is left out is what is usual today.
const AS_TODAY: u8 = b'3';

/// Longest link that is looked at, in bytes: what the longest recipe comes to.
pub const LINK_LIMIT: usize = 1 + RECIPE_LIMIT.div_ceil(3) * 4;

/// Why a link cannot be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LinkError {
    /// It is longer than [`LINK_LIMIT`].
    TooLong,
    /// A newer Evenloop wrote it.
    Newer,
    /// A part is missing or was changed on the way.
    Damaged,
    /// It holds something, but no recipe.
    NoRecipe,
}

/// Writes a recipe as text that an address can hold as it is.
pub fn write_link(recipe: &Recipe) -> String {
    // Our own plain structs: nothing in it that JSON could refuse.
    let json = serde_json::to_string(&LeanRecipe(recipe)).unwrap_or_default();
    let version = if needs_fourth_form(recipe) {
        NEWEST
    } else {
        AS_TODAY
    };
    wrap(version, &json)
}

/// The link of a recipe document, which is not looked at: for documents of our own, where reading and
/// writing them would cost a page much. None of them has a choice of the fourth form.
pub fn link_document(document: &str) -> String {
    wrap(AS_TODAY, document)
}

fn wrap(version: u8, json: &str) -> String {
    let mut out = String::with_capacity(1 + json.len().div_ceil(3) * 4);
    out.push(char::from(version));
    encode(json.as_bytes(), &mut out);
    out
}

/// Reads what [`write_link`] wrote. Whether the recipe makes a sock is another question.
///
/// # Errors
/// See [`LinkError`].
pub fn read_link(text: &str) -> Result<Recipe, LinkError> {
    if text.len() > LINK_LIMIT {
        return Err(LinkError::TooLong);
    }
    let version = match text.bytes().next() {
        Some(version @ FIRST..=NEWEST) => version,
        Some(b'5'..=b'9') => return Err(LinkError::Newer),
        _ => return Err(LinkError::Damaged),
    };
    let bytes = decode(&text.as_bytes()[1..]).ok_or(LinkError::Damaged)?;
    let json = String::from_utf8(bytes).map_err(|_| LinkError::Damaged)?;
    let mut recipe = from_json(&json).map_err(|_| LinkError::NoRecipe)?;
    if version < AS_TODAY {
        let chosen: EarlierChoices = from_json(&json).map_err(|_| LinkError::Damaged)?;
        chosen.or_as_before(&mut recipe);
    }
    Ok(recipe)
}

/// A recipe without what is the default's.
struct LeanRecipe<'a>(&'a Recipe);

impl Serialize for LeanRecipe<'_> {
    fn serialize<S: Serializer>(&self, to: S) -> Result<S::Ok, S::Error> {
        self.0.serialize_unusual(to)
    }
}

const ALPHABET: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

fn encode(bytes: &[u8], out: &mut String) {
    for three in bytes.chunks(3) {
        let byte = |i: usize| u32::from(three.get(i).copied().unwrap_or(0));
        let group = byte(0) << 16 | byte(1) << 8 | byte(2);
        for place in 0..=three.len() {
            let six = (group >> (18 - 6 * place)) & 63;
            out.push(char::from(ALPHABET[six as usize]));
        }
    }
}

/// `None` for anything that [`encode`] does not write.
fn decode(text: &[u8]) -> Option<Vec<u8>> {
    let mut out = Vec::with_capacity(text.len() / 4 * 3 + 2);
    for four in text.chunks(4) {
        let mut group = 0_u32;
        for letter in four {
            let six = match letter {
                b'A'..=b'Z' => letter - b'A',
                b'a'..=b'z' => letter - b'a' + 26,
                b'0'..=b'9' => letter - b'0' + 52,
                b'-' => 62,
                b'_' => 63,
                _ => return None,
            };
            group = group << 6 | u32::from(six);
        }
        group <<= 6 * (4 - four.len());
        let [_, bytes @ ..] = group.to_be_bytes();
        let whole = four.len().checked_sub(1).filter(|whole| *whole > 0)?;
        // bits that no byte has use for are nothing
        if bytes[whole..].iter().any(|rest| *rest != 0) {
            return None;
        }
        out.extend_from_slice(&bytes[..whole]);
    }
    Some(out)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::needle_size::Needle;
    use crate::recipe::{BindOff, CastOn, Heel};
    use crate::units::Length;

    /// Byte for byte: the links that are about have them in this order.
    #[test]
    fn a_link_holds_the_foot_the_swatch_and_what_is_not_usual() {
        let usual = Recipe::default();
        let foot_and_swatch = r#""foot":{"length":2400},"swatch":{"stitches":30,"width":1000,"rounds":42,"height":1000}"#;
        let lean =
            |recipe: &Recipe| serde_json::to_string(&LeanRecipe(recipe)).expect("it is JSON");
        assert_eq!(lean(&usual), format!("{{{foot_and_swatch}}}"));
        let other = Recipe {
            cast_on: CastOn::SlipKnot,
            leg: Length::cm(20),
            heel: Heel::ShortRow { between: 2 },
            stitches: Some(64),
            ..usual
        };
        assert_eq!(
            lean(&other),
            format!(
                r#"{{{foot_and_swatch},"cast_on":"slip-knot","leg":2000,"heel":{{"kind":"short-row","between":2}},"stitches":64}}"#
            )
        );
    }

    /// RFC 4648, section 10, without padding.
    #[test]
    fn base64_is_the_standards() {
        for (plain, coded) in [
            ("", ""),
            ("f", "Zg"),
            ("fo", "Zm8"),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg"),
            ("fooba", "Zm9vYmE"),
            ("foobar", "Zm9vYmFy"),
        ] {
            let mut out = String::new();
            encode(plain.as_bytes(), &mut out);
            assert_eq!(out, coded);
            assert_eq!(decode(coded.as_bytes()).as_deref(), Some(plain.as_bytes()));
        }
        assert_eq!(decode(b"-_-_"), Some(vec![0xfb, 0xff, 0xbf]));
        for wrong in ["Z", "Zh", "Zm9", "Zm9v=", "Zm 9", "Zm9vY"] {
            assert_eq!(decode(wrong.as_bytes()), None, "{wrong}");
        }
    }

    #[test]
    fn the_usual_recipe_is_short_and_reads_back() {
        let recipe = Recipe::default();
        let link = write_link(&recipe);
        assert!(link.len() < 140, "{} {link}", link.len());
        assert_eq!(read_link(&link), Ok(recipe));
    }

    #[test]
    fn a_recipe_is_of_the_oldest_form_that_can_hold_it() {
        let mut recipe = Recipe::default();
        assert!(write_link(&recipe).starts_with('3'));
        recipe.swatch.needle = Needle::all().nth(4);
        let link = write_link(&recipe);
        assert!(link.starts_with('3'));
        assert_eq!(read_link(&link), Ok(recipe.clone()));
        recipe.cast_on = CastOn::Tubular;
        let link = write_link(&recipe);
        assert!(link.starts_with('4'));
        assert_eq!(read_link(&link), Ok(recipe));
    }

    /// A link that was sent earlier makes the sock it made then.
    #[test]
    fn an_older_link_means_what_was_usual_then() {
        let json = r#"{"direction":"toe-up","foot":{"length":2400},"swatch":{"stitches":30,"width":1000,"rounds":42,"height":1000}}"#;
        let flap = r#"{"heel":{"kind":"flap-and-gusset"},"bind_off":"sewn","foot":{"length":2400},"swatch":{"stitches":30,"width":1000,"rounds":42,"height":1000}}"#;
        let corners = |recipe: &Recipe| match recipe.heel {
            Heel::FlapAndGusset { corners, .. } => corners,
            _ => unreachable!("a flap"),
        };
        let read = |version, json| read_link(&wrap(version, json)).expect("a link");
        for version in [b'1', b'2'] {
            let recipe = read(version, json);
            assert_eq!((recipe.bind_off, corners(&recipe)), (BindOff::Plain, false));
            let recipe = read(version, flap);
            assert_eq!((recipe.bind_off, corners(&recipe)), (BindOff::Sewn, false));
        }
        let recipe = read(b'3', json);
        assert_eq!(
            (recipe.bind_off, corners(&recipe)),
            (BindOff::YarnOver, true)
        );
    }

    #[test]
    fn what_is_no_link_is_refused_with_its_reason() {
        assert_eq!(read_link(""), Err(LinkError::Damaged));
        assert_eq!(read_link("5abc"), Err(LinkError::Newer));
        assert_eq!(read_link("1Zg=="), Err(LinkError::Damaged));
        assert_eq!(read_link("é"), Err(LinkError::Damaged));
        let long = "1".repeat(LINK_LIMIT + 1);
        assert_eq!(read_link(&long), Err(LinkError::TooLong));
        assert_eq!(read_link("1e30"), Err(LinkError::NoRecipe));
        let link = write_link(&Recipe::default());
        for end in 0..link.len() {
            assert!(read_link(&link[..end]).is_err(), "{end}");
        }
    }
}
