//! The reader: a place in a text, and what serde may ask for there.
//!
//! What does not depend on the type that is read stands in functions of its own, which are compiled once.

use std::borrow::Cow;
use std::fmt::Display;

use serde::de::{
    self, DeserializeSeed, Deserializer, EnumAccess, Expected, MapAccess, SeqAccess, Unexpected,
    VariantAccess, Visitor,
};
use serde::forward_to_deserialize_any;

/// How deep lists and objects may lie in each other: a bound for the stack.
const DEEPEST: u8 = 128;

/// Reading cannot go on. What is missing or unknown is not said: see [`super`].
#[derive(Debug, Clone, Copy)]
pub(super) struct Refused;

impl Display for Refused {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str("this cannot be read")
    }
}

impl std::error::Error for Refused {}

// Each of these would write a message otherwise.
impl de::Error for Refused {
    fn custom<T: Display>(_: T) -> Self {
        Self
    }

    fn invalid_type(_: Unexpected<'_>, _: &dyn Expected) -> Self {
        Self
    }

    fn invalid_value(_: Unexpected<'_>, _: &dyn Expected) -> Self {
        Self
    }

    fn invalid_length(_: usize, _: &dyn Expected) -> Self {
        Self
    }

    fn unknown_variant(_: &str, _: &'static [&'static str]) -> Self {
        Self
    }

    fn unknown_field(_: &str, _: &'static [&'static str]) -> Self {
        Self
    }

    fn missing_field(_: &'static str) -> Self {
        Self
    }

    fn duplicate_field(_: &'static str) -> Self {
        Self
    }
}

type Read<T> = Result<T, Refused>;

/// A place in a text. What is asked for begins there, behind white space.
#[derive(Debug)]
pub(super) struct Reader<'t> {
    text: &'t str,
    at: usize,
    depth: u8,
}

/// A number of JSON.
#[derive(Debug, Clone, Copy)]
enum Number {
    Natural(u64),
    Negative(i64),
    /// One with a fraction or an exponent, or one that is too large.
    Other,
}

impl<'t> Reader<'t> {
    /// At the beginning of a text.
    pub(super) const fn of(text: &'t str) -> Self {
        Self {
            text,
            at: 0,
            depth: 0,
        }
    }

    /// The byte at which it stands.
    pub(super) const fn at(&self) -> usize {
        self.at
    }

    /// Whether nothing but white space is left.
    pub(super) fn is_at_end(&mut self) -> bool {
        self.skip_white();
        self.at == self.text.len()
    }

    fn byte(&self) -> Option<u8> {
        self.text.as_bytes().get(self.at).copied()
    }

    fn skip_white(&mut self) {
        while let Some(b' ' | b'\n' | b'\r' | b'\t') = self.byte() {
            self.at += 1;
        }
    }

    /// The next byte that is no white space; it is not passed.
    #[inline(never)]
    fn peek(&mut self) -> Option<u8> {
        self.skip_white();
        self.byte()
    }

    /// Passes a byte if it is the next one.
    #[inline(never)]
    fn pass(&mut self, byte: u8) -> bool {
        let there = self.peek() == Some(byte);
        self.at += usize::from(there);
        there
    }

    #[inline(never)]
    fn expect(&mut self, byte: u8) -> Read<()> {
        self.pass(byte).then_some(()).ok_or(Refused)
    }

    #[inline(never)]
    fn word(&mut self, word: &str) -> Read<()> {
        self.skip_white();
        let rest = self.text.get(self.at..).unwrap_or_default();
        if rest.starts_with(word) {
            self.at += word.len();
            return Ok(());
        }
        Err(Refused)
    }

    #[inline(never)]
    fn switch(&mut self) -> Read<bool> {
        match self.peek() {
            Some(b't') => self.word("true").map(|()| true),
            _ => self.word("false").map(|()| false),
        }
    }

    /// Passes one digit or more.
    fn digits(&mut self) -> Read<()> {
        let start = self.at;
        while self.byte().is_some_and(|byte| byte.is_ascii_digit()) {
            self.at += 1;
        }
        (self.at > start).then_some(()).ok_or(Refused)
    }

    #[inline(never)]
    fn number(&mut self) -> Read<Number> {
        self.skip_white();
        let start = self.at;
        let negative = self.byte() == Some(b'-');
        self.at += usize::from(negative);
        let first = self.at;
        self.digits()?;
        // No number begins with a zero that means nothing.
        if self.at > first + 1 && self.text.as_bytes().get(first) == Some(&b'0') {
            return Err(Refused);
        }
        let end = self.at;
        if self.byte() == Some(b'.') {
            self.at += 1;
            self.digits()?;
        }
        if let Some(b'e' | b'E') = self.byte() {
            self.at += 1;
            if let Some(b'+' | b'-') = self.byte() {
                self.at += 1;
            }
            self.digits()?;
        }
        if self.at > end {
            return Ok(Number::Other);
        }
        let digits = self.text.get(start..end).unwrap_or_default();
        let whole = if negative {
            digits.parse().map(Number::Negative)
        } else {
            digits.parse().map(Number::Natural)
        };
        Ok(match whole {
            // A zero below zero is none that counts anything.
            Err(_) | Ok(Number::Negative(0)) => Number::Other,
            Ok(number) => number,
        })
    }

    /// A text between its quotation marks.
    #[inline(never)]
    fn string(&mut self) -> Read<Cow<'t, str>> {
        self.expect(b'"')?;
        let mut whole = String::new();
        let mut start = self.at;
        loop {
            let byte = self.byte().ok_or(Refused)?;
            match byte {
                b'"' | b'\\' => {
                    // Both are characters of one byte, so no other is cut.
                    let piece = self.text.get(start..self.at).unwrap_or_default();
                    self.at += 1;
                    if byte == b'"' && whole.is_empty() {
                        return Ok(Cow::Borrowed(piece));
                    }
                    whole.push_str(piece);
                    if byte == b'"' {
                        return Ok(Cow::Owned(whole));
                    }
                    whole.push(self.escaped()?);
                    start = self.at;
                }
                0..b' ' => return Err(Refused),
                _ => self.at += 1,
            }
        }
    }

    /// The character that stands behind a backslash.
    fn escaped(&mut self) -> Read<char> {
        let byte = self.byte().ok_or(Refused)?;
        self.at += 1;
        Ok(match byte {
            b'"' | b'\\' | b'/' => char::from(byte),
            b'b' => '\u{8}',
            b'f' => '\u{c}',
            b'n' => '\n',
            b'r' => '\r',
            b't' => '\t',
            b'u' => {
                let first = self.unit()?;
                // A character beyond the first 65,536 is written as two (RFC 8259, section 7).
                let code = if let 0xD800..0xDC00 = first {
                    let rest = self.text.as_bytes().get(self.at..self.at + 2);
                    if rest != Some(b"\\u") {
                        return Err(Refused);
                    }
                    self.at += 2;
                    let second = self.unit()?;
                    let low = second.checked_sub(0xDC00).filter(|low| *low < 0x400);
                    0x1_0000 + ((first - 0xD800) << 10) + low.ok_or(Refused)?
                } else {
                    first
                };
                char::from_u32(code).ok_or(Refused)?
            }
            _ => return Err(Refused),
        })
    }

    /// Four hexadecimal digits.
    fn unit(&mut self) -> Read<u32> {
        let digits = self.text.as_bytes().get(self.at..self.at + 4);
        let mut unit = 0;
        for digit in digits.ok_or(Refused)? {
            let value = char::from(*digit).to_digit(16).ok_or(Refused)?;
            unit = unit << 4 | value;
        }
        self.at += 4;
        Ok(unit)
    }

    /// Goes into a list or an object.
    #[inline(never)]
    fn enter(&mut self, open: u8) -> Read<()> {
        self.expect(open)?;
        self.depth += 1;
        (self.depth < DEEPEST).then_some(()).ok_or(Refused)
    }

    #[inline(never)]
    fn leave(&mut self, close: u8) -> Read<()> {
        self.expect(close)?;
        self.depth -= 1;
        Ok(())
    }

    /// Whether another element or field comes, passing the comma before it.
    #[inline(never)]
    fn another(&mut self, close: u8, first: &mut bool) -> Read<bool> {
        if self.peek() == Some(close) {
            return Ok(false);
        }
        if !std::mem::take(first) {
            self.expect(b',')?;
        }
        Ok(true)
    }

    /// Passes a value of any kind.
    #[inline(never)]
    fn skip(&mut self) -> Read<()> {
        match self.peek().ok_or(Refused)? {
            b'n' => self.word("null"),
            b't' | b'f' => self.switch().map(drop),
            b'"' => self.string().map(drop),
            b'[' => {
                self.enter(b'[')?;
                let mut first = true;
                while self.another(b']', &mut first)? {
                    self.skip()?;
                }
                self.leave(b']')
            }
            b'{' => {
                self.enter(b'{')?;
                let mut first = true;
                while self.another(b'}', &mut first)? {
                    self.string()?;
                    self.expect(b':')?;
                    self.skip()?;
                }
                self.leave(b'}')
            }
            _ => self.number().map(drop),
        }
    }

    fn list<'de, V: Visitor<'de>>(&mut self, visitor: V) -> Read<V::Value> {
        self.enter(b'[')?;
        let value = visitor.visit_seq(Parts {
            reader: self,
            first: true,
        })?;
        self.leave(b']')?;
        Ok(value)
    }

    fn object<'de, V: Visitor<'de>>(&mut self, visitor: V) -> Read<V::Value> {
        self.enter(b'{')?;
        let value = visitor.visit_map(Parts {
            reader: self,
            first: true,
        })?;
        self.leave(b'}')?;
        Ok(value)
    }

    fn whole<'de, V: Visitor<'de>>(&mut self, visitor: V) -> Read<V::Value> {
        match self.number()? {
            Number::Natural(number) => visitor.visit_u64(number),
            Number::Negative(number) => visitor.visit_i64(number),
            Number::Other => Err(Refused),
        }
    }
}

/// Asked for with this, a number is a whole one.
macro_rules! whole_numbers {
    ($($ask:ident)*) => {$(
        fn $ask<V: Visitor<'de>>(self, visitor: V) -> Read<V::Value> {
            self.whole(visitor)
        }
    )*};
}

/// Asked for with this, a text is handed on.
macro_rules! texts {
    ($($ask:ident)*) => {$(
        fn $ask<V: Visitor<'de>>(self, visitor: V) -> Read<V::Value> {
            visitor.visit_str(&self.string()?)
        }
    )*};
}

impl<'de> Deserializer<'de> for &mut Reader<'_> {
    type Error = Refused;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Read<V::Value> {
        match self.peek().ok_or(Refused)? {
            b'n' => self.deserialize_unit(visitor),
            b't' | b'f' => self.deserialize_bool(visitor),
            b'"' => self.deserialize_str(visitor),
            b'[' => self.list(visitor),
            b'{' => self.object(visitor),
            _ => self.whole(visitor),
        }
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Read<V::Value> {
        visitor.visit_bool(self.switch()?)
    }

    whole_numbers! {
        deserialize_u8 deserialize_u16 deserialize_u32 deserialize_u64
        deserialize_i8 deserialize_i16 deserialize_i32 deserialize_i64
    }

    texts! { deserialize_str deserialize_string deserialize_identifier }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Read<V::Value> {
        if self.peek() == Some(b'n') {
            self.word("null")?;
            visitor.visit_none()
        } else {
            visitor.visit_some(self)
        }
    }

    fn deserialize_unit<V: Visitor<'de>>(self, visitor: V) -> Read<V::Value> {
        self.word("null")?;
        visitor.visit_unit()
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        visitor: V,
    ) -> Read<V::Value> {
        visitor.visit_newtype_struct(self)
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Read<V::Value> {
        self.list(visitor)
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, _: usize, visitor: V) -> Read<V::Value> {
        self.list(visitor)
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Read<V::Value> {
        self.object(visitor)
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Read<V::Value> {
        self.object(visitor)
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        _: &'static [&'static str],
        visitor: V,
    ) -> Read<V::Value> {
        let keyed = self.peek() == Some(b'{');
        if keyed {
            self.enter(b'{')?;
        }
        let value = visitor.visit_enum(Choice {
            reader: self,
            keyed,
        })?;
        if keyed {
            self.leave(b'}')?;
        }
        Ok(value)
    }

    fn deserialize_ignored_any<V: Visitor<'de>>(self, visitor: V) -> Read<V::Value> {
        self.skip()?;
        visitor.visit_unit()
    }

    forward_to_deserialize_any! {
        i128 u128 f32 f64 char bytes byte_buf unit_struct tuple_struct
    }
}

/// What stands in a list or an object.
struct Parts<'r, 't> {
    reader: &'r mut Reader<'t>,
    first: bool,
}

impl<'de> SeqAccess<'de> for Parts<'_, '_> {
    type Error = Refused;

    fn next_element_seed<T: DeserializeSeed<'de>>(&mut self, seed: T) -> Read<Option<T::Value>> {
        if !self.reader.another(b']', &mut self.first)? {
            return Ok(None);
        }
        seed.deserialize(&mut *self.reader).map(Some)
    }
}

impl<'de> MapAccess<'de> for Parts<'_, '_> {
    type Error = Refused;

    fn next_key_seed<K: DeserializeSeed<'de>>(&mut self, seed: K) -> Read<Option<K::Value>> {
        if !self.reader.another(b'}', &mut self.first)? {
            return Ok(None);
        }
        // Whoever takes anything for a name gets a text all the same.
        if self.reader.peek() != Some(b'"') {
            return Err(Refused);
        }
        seed.deserialize(&mut *self.reader).map(Some)
    }

    fn next_value_seed<V: DeserializeSeed<'de>>(&mut self, seed: V) -> Read<V::Value> {
        self.reader.expect(b':')?;
        seed.deserialize(&mut *self.reader)
    }
}

/// One of several kinds: a word, or a word with what belongs to it.
struct Choice<'r, 't> {
    reader: &'r mut Reader<'t>,
    keyed: bool,
}

impl Choice<'_, '_> {
    /// Passes what lies between the word and what belongs to it.
    fn go_on(&mut self) -> Read<()> {
        if self.keyed {
            self.reader.expect(b':')
        } else {
            Err(Refused)
        }
    }
}

impl<'de> EnumAccess<'de> for Choice<'_, '_> {
    type Error = Refused;
    type Variant = Self;

    fn variant_seed<V: DeserializeSeed<'de>>(self, seed: V) -> Read<(V::Value, Self)> {
        let kind = seed.deserialize(&mut *self.reader)?;
        Ok((kind, self))
    }
}

impl<'de> VariantAccess<'de> for Choice<'_, '_> {
    type Error = Refused;

    fn unit_variant(mut self) -> Read<()> {
        if self.keyed {
            self.go_on()?;
            return self.reader.word("null");
        }
        Ok(())
    }

    fn newtype_variant_seed<T: DeserializeSeed<'de>>(mut self, seed: T) -> Read<T::Value> {
        self.go_on()?;
        seed.deserialize(self.reader)
    }

    fn tuple_variant<V: Visitor<'de>>(mut self, _: usize, visitor: V) -> Read<V::Value> {
        self.go_on()?;
        self.reader.list(visitor)
    }

    fn struct_variant<V: Visitor<'de>>(
        mut self,
        _: &'static [&'static str],
        visitor: V,
    ) -> Read<V::Value> {
        self.go_on()?;
        self.reader.object(visitor)
    }
}
