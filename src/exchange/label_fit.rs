//! Fitting the words of a label into its shape.
//!
//! Invariant: every line lies inside the shape, whatever the text; what does not
//! fit at the smallest type is cut with an ellipsis, the longest text first.
//!
//! All lengths are hundredths of a millimetre. Widths of letters are upper bounds
//! over the usual sans-serif types of phones, taken from the widest of them (from
//! the metrics of a free type, bold), so that text drawn in another is narrower.

/// Outline of a label.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shape {
    /// A disc, by its diameter: for a lid.
    Round(u32),
    /// A rectangle, width by height: for the side of a jar.
    Side(u32, u32),
}

/// Rank of a text, which decides its size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Size {
    /// What is in the jar.
    Title,
    /// The style of pack.
    Word,
    /// Dates and process.
    Fact,
    /// Names and publication.
    Small,
}

/// A text to be fitted.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Block {
    /// Its rank.
    pub size: Size,
    /// Whether it is bold.
    pub strong: bool,
    /// The text.
    pub text: String,
}

/// One line, as drawn: centred on a disc, from the left on a rectangle.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Line {
    /// Middle or left end, from the label's left.
    pub x: u32,
    /// Base line, from the label's top.
    pub y: u32,
    /// Size of the type.
    pub size: u32,
    /// The most room it may take.
    pub room: u32,
    /// Whether it is bold.
    pub strong: bool,
    /// The text.
    pub text: String,
}

/// A label with its lines.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Drawn {
    /// Its outline.
    pub shape: Shape,
    /// Its lines, from the top.
    pub lines: Vec<Line>,
}

/// White space inside the outline.
const PADDING: u32 = 200;
/// Largest and smallest type of the title.
const LARGEST: u32 = 750;
const SMALLEST: u32 = 230;
/// Steps down on the way, a twentieth of a millimetre apart.
const STEP: u32 = 10;
/// Line height and height above the base line, in hundredths of the type's size.
const LEADING: u32 = 118;
const ASCENT: u32 = 92;

impl Shape {
    /// Width and height of the box around it.
    #[must_use]
    pub const fn bounds(self) -> (u32, u32) {
        match self {
            Self::Round(diameter) => (diameter, diameter),
            Self::Side(width, height) => (width, height),
        }
    }

    /// Room for a line between two heights, from the top of the box.
    fn room(self, top: u32, bottom: u32) -> u32 {
        match self {
            Self::Side(width, _) => width.saturating_sub(2 * PADDING),
            Self::Round(diameter) => {
                let centre = diameter / 2;
                let radius = u64::from(centre.saturating_sub(PADDING));
                let far = u64::from(top.abs_diff(centre).max(bottom.abs_diff(centre)));
                let half = (radius * radius).saturating_sub(far * far).isqrt();
                u32::try_from(2 * half).unwrap_or(0)
            }
        }
    }
}

impl Size {
    /// Size of the type for a title of so much, never under 1.3 mm.
    fn of(self, title: u32) -> u32 {
        let percent = match self {
            Self::Title => 100,
            Self::Word => 84,
            Self::Fact => 68,
            Self::Small => 50,
        };
        (title * percent / 100).max(130)
    }
}

/// Upper bound of a letter's width, in thousandths of the type's size.
fn letter(c: char) -> u32 {
    match c {
        'i' | 'j' | 'l' | 'I' | '.' | ',' | ':' | ';' | '\'' | '|' | '!' | ' ' => 400,
        'f' | 't' | 'r' | 'í' | '(' | ')' | '[' | ']' | '/' | '-' | '*' | '"' => 530,
        'm' | '@' | '%' | 'W' | '…' => 1110,
        'w' | 'M' => 1010,
        'a'..='z' | 'á' | 'é' | 'ó' | 'ú' | 'ü' | 'ñ' => 720,
        '0'..='9' => 700,
        'A'..='Z' => 870,
        '\u{2e80}'.. => 1400,
        _ => 1000,
    }
}

/// Upper bound of a text's width at a type size.
#[must_use]
pub fn width(text: &str, size: u32) -> u32 {
    let thousandths: u64 = text.chars().map(|c| u64::from(letter(c))).sum();
    u32::try_from((thousandths * u64::from(size)).div_ceil(1000)).unwrap_or(u32::MAX)
}

/// Fits texts into a shape, as large as they go.
#[must_use]
pub fn fit(shape: Shape, blocks: &[Block]) -> Drawn {
    let mut title = LARGEST;
    while title >= SMALLEST {
        if let Some(lines) = settle(shape, blocks, title) {
            return Drawn { shape, lines };
        }
        title -= STEP;
    }
    // The smallest type does not do: cut the texts, the longest first, until it does.
    let mut blocks = blocks.to_vec();
    loop {
        if let Some(lines) = settle(shape, &blocks, SMALLEST) {
            return Drawn { shape, lines };
        }
        let mut longest = None;
        for (index, block) in blocks.iter().enumerate() {
            let long = width(&block.text, block.size.of(SMALLEST));
            if longest.is_none_or(|(_, most)| long > most) {
                longest = Some((index, long));
            }
        }
        let Some(block) = longest.and_then(|(index, _)| blocks.get_mut(index)) else {
            return Drawn { shape, lines: Vec::new() };
        };
        if !cut(&mut block.text) {
            // Nothing left to cut: the shape is too small for any label.
            return Drawn { shape, lines: Vec::new() };
        }
    }
}

/// Takes the end off a text and marks it; `false` once nothing is left.
fn cut(text: &mut String) -> bool {
    let kept = text.trim_end_matches('…').chars().count();
    let keep = kept.saturating_sub(4);
    if keep == 0 {
        let had = !text.is_empty();
        text.clear();
        return had;
    }
    let short: String = text.chars().take(keep).collect();
    *text = format!("{}…", short.trim_end());
    true
}

/// The lines at one type size, if they fit. On a disc the room of a line hangs on
/// how high all of them are together, so heights are tried from the least upward.
fn settle(shape: Shape, blocks: &[Block], title: u32) -> Option<Vec<Line>> {
    let (_, whole) = shape.bounds();
    let inner = whole.checked_sub(2 * PADDING)?;
    let tall = |block: &Block| block.size.of(title) * LEADING / 100;
    let mut height = match shape {
        Shape::Round(_) => blocks.iter().map(tall).sum(),
        Shape::Side(..) => inner,
    };
    while height <= inner {
        if let Some(lines) = lay(shape, blocks, title, (whole - height) / 2) {
            let used: u32 = lines.iter().map(|line| line.size * LEADING / 100).sum();
            if used <= height {
                return Some(lines);
            }
        }
        height += inner / 30 + 1;
    }
    None
}

/// Lays lines from a height downward.
fn lay(shape: Shape, blocks: &[Block], title: u32, top: u32) -> Option<Vec<Line>> {
    let mut lines = Vec::new();
    let mut y = top;
    for block in blocks {
        let size = block.size.of(title);
        let tall = size * LEADING / 100;
        let mut rest = block.text.trim();
        while !rest.is_empty() {
            let room = shape.room(y, y + tall);
            let (line, after) = break_line(rest, room, size, title == SMALLEST)?;
            let x = match shape {
                Shape::Round(diameter) => diameter / 2,
                Shape::Side(..) => PADDING,
            };
            let (text, strong) = (line.to_owned(), block.strong);
            lines.push(Line { x, y: y + size * ASCENT / 100, size, room, strong, text });
            y += tall;
            rest = after;
        }
    }
    Some(lines)
}

/// As many words as fit. A word too long for a line of its own is broken only if
/// `may_cut`, after three letters at least; `None` if nothing fits.
fn break_line(text: &str, room: u32, size: u32, may_cut: bool) -> Option<(&str, &str)> {
    let most = u64::from(room) * 1_000;
    let mut used = 0_u64;
    let mut at_space = None;
    let mut at_letter = None;
    for (count, (place, c)) in text.char_indices().enumerate() {
        if c == ' ' {
            at_space = Some(place);
        }
        if may_cut && count >= 3 {
            at_letter = Some(place);
        }
        used += u64::from(letter(c)) * u64::from(size);
        if used > most {
            let (head, tail) = text.split_at(at_space.or(at_letter)?);
            return Some((head.trim_end(), tail.trim_start()));
        }
    }
    Some((text, ""))
}
