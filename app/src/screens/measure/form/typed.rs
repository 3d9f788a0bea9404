//! What was typed, as a draft keeps it: by the fields' paths in a recipe. A field that this build does
//! not have is passed over.

use std::collections::BTreeMap;

use evenloop_engine::recipe::NumberField;
use serde::{Deserialize, Deserializer, Serializer};

type TypedNumbers = BTreeMap<NumberField, String>;

pub(super) fn serialize<S: Serializer>(
    typed: &TypedNumbers,
    serializer: S,
) -> Result<S::Ok, S::Error> {
    serializer.collect_map(typed.iter().map(|(field, text)| (field.path(), text)))
}

pub(super) fn deserialize<'de, D: Deserializer<'de>>(
    deserializer: D,
) -> Result<TypedNumbers, D::Error> {
    let all = BTreeMap::<String, String>::deserialize(deserializer)?.into_iter();
    Ok(all
        .filter_map(|(name, text)| Some((field(&name)?, text)))
        .collect())
}

fn field(name: &str) -> Option<NumberField> {
    NumberField::at(name).or_else(|| named_before(name))
}

/// Drafts that were stored by an earlier build name the input of the form instead of the path.
fn named_before(name: &str) -> Option<NumberField> {
    use NumberField as N;

    Some(match name {
        "foot-length" => N::FootLength,
        "foot-circumference" => N::FootCircumference,
        "heel-diagonal" => N::HeelDiagonal,
        "swatch-stitches" => N::SwatchStitches,
        "swatch-width" => N::SwatchWidth,
        "swatch-rounds" => N::SwatchRounds,
        "swatch-height" => N::SwatchHeight,
        "unwashed-width" => N::UnwashedWidth,
        "unwashed-height" => N::UnwashedHeight,
        "cuff-length" => N::CuffLength,
        "heel-rows" => N::HeelRows,
        "heel-height" => N::HeelHeight,
        "heel-between" | "between" => N::HeelBetween,
        "ease" => N::EasePercent,
        "length-ease" => N::LengthEase,
        "ball-grams" => N::BallGrams,
        "ball-metres" => N::BallMetres,
        _ => {
            let (list, place) = name.rsplit_once('-')?;
            let path = match list {
                "girth-height" => format!("calf.{place}.height"),
                "girth-round" => format!("calf.{place}.circumference"),
                "stripe-rounds" => format!("yarns.stripes.{place}.rounds"),
                _ => return None,
            };
            N::at(&path)?
        }
    })
}
