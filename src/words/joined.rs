//! Numbers that stay on one line with the unit after them: "110 min", "13 psi".
//!
//! Invariant: nothing is changed but spaces, and as many of them stay.

/// The longest unit, in letters; longer words may stand on the next line.
const LONGEST: usize = 3;

/// The text with a no-break space between a figure and its unit.
#[must_use]
#[inline(never)]
pub fn joined(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 8);
    for (at, part) in text.split(' ').enumerate() {
        let figure = out.as_bytes().last().is_some_and(u8::is_ascii_digit);
        let letters = part.bytes().take_while(u8::is_ascii_alphabetic).count();
        out.push_str(match at {
            0 => "",
            _ if figure && (1..=LONGEST).contains(&letters) => "\u{a0}",
            _ => " ",
        });
        out.push_str(part);
    }
    out
}

#[cfg(test)]
mod tests {
    use super::joined;

    #[test]
    fn a_figure_stays_with_its_unit() {
        assert_eq!(joined("Start: 110 min at 13 psi"), "Start: 110\u{a0}min at 13\u{a0}psi");
        assert_eq!(joined("1 in (25 mm), 90 F."), "1\u{a0}in (25\u{a0}mm), 90\u{a0}F.");
        assert_eq!(joined("purgar 10 min, 1 día"), "purgar 10\u{a0}min, 1\u{a0}día");
        // Nothing else: dates, ranges of figures, a space at the end.
        assert_eq!(joined("2026-11-25, 5 (6) 7 "), "2026-11-25, 5 (6) 7 ");
        assert_eq!(joined("Wait 1:50:00 more"), "Wait 1:50:00 more");
        assert_eq!(joined("1 1/2 pint"), "1 1/2 pint");
    }
}
