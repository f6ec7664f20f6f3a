//! From a JSON value to its one text.
//!
//! Invariant: no white space, members in order of name, only the escapes RFC 8259
//! demands.

use super::Json;
use core::fmt;

impl fmt::Display for Json {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Null => f.write_str("null"),
            Self::Bool(true) => f.write_str("true"),
            Self::Bool(false) => f.write_str("false"),
            Self::Number(digits) => f.write_str(digits),
            Self::Text(text) => string(text, f),
            Self::List(list) => {
                f.write_str("[")?;
                for (index, value) in list.iter().enumerate() {
                    if index > 0 {
                        f.write_str(",")?;
                    }
                    value.fmt(f)?;
                }
                f.write_str("]")
            }
            Self::Object(members) => {
                f.write_str("{")?;
                for (index, (name, value)) in members.iter().enumerate() {
                    if index > 0 {
                        f.write_str(",")?;
                    }
                    string(name, f)?;
                    f.write_str(":")?;
                    value.fmt(f)?;
                }
                f.write_str("}")
            }
        }
    }
}

fn string(text: &str, f: &mut fmt::Formatter<'_>) -> fmt::Result {
    f.write_str("\"")?;
    let mut rest = text;
    while let Some(place) = rest.find(|c| matches!(c, '"' | '\\' | '\0'..='\x1f')) {
        let (plain, from) = rest.split_at(place);
        f.write_str(plain)?;
        let mut chars = from.chars();
        match chars.next() {
            Some('"') => f.write_str("\\\"")?,
            Some('\\') => f.write_str("\\\\")?,
            Some('\n') => f.write_str("\\n")?,
            Some('\r') => f.write_str("\\r")?,
            Some('\t') => f.write_str("\\t")?,
            Some('\u{8}') => f.write_str("\\b")?,
            Some('\u{c}') => f.write_str("\\f")?,
            Some(c) => write!(f, "\\u{:04x}", u32::from(c))?,
            None => {}
        }
        rest = chars.as_str();
    }
    f.write_str(rest)?;
    f.write_str("\"")
}
