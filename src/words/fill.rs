//! Values put into the gaps of a text.
//!
//! Invariant: a gap without a value stays visible; nothing else of the text changes.

use super::Word;
use std::fmt::{Display, Write as _};

/// The text with its gaps filled: `{}` takes the next value, `{2}` the third.
#[must_use]
#[inline(never)]
pub fn fill(word: Word, values: &[&dyn Display]) -> String {
    filled(word.say(), values)
}

fn filled(text: &str, values: &[&dyn Display]) -> String {
    let mut out = String::with_capacity(text.len() + 16);
    let mut next = 0;
    let mut parts = text.split('{');
    out.push_str(parts.next().unwrap_or_default());
    for part in parts {
        let (gap, rest) = part.split_once('}').unwrap_or(("", part));
        let at = gap.parse().unwrap_or_else(|_| {
            next += 1;
            next - 1
        });
        match values.get(at) {
            Some(value) => {
                let _ = write!(out, "{value}");
            }
            None => out.push_str("{}"),
        }
        out.push_str(rest);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::filled;

    #[test]
    fn gaps_are_filled_in_order_or_by_number() {
        assert_eq!(filled("no gap", &[]), "no gap");
        assert_eq!(filled("{} of {} jars", &[&3, &"9"]), "3 of 9 jars");
        assert_eq!(filled("de {1}, {0}", &[&3, &9]), "de 9, 3");
        assert_eq!(filled("{}{}", &[&1]), "1{}");
    }
}
