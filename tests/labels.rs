//! Labels: geometry of the sheets, texts inside their shapes, words that must be there.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // a failed test may panic

mod common;

use common::finished::{processed, utc};
use common::{id, start};
use hearthjar::batch::{BatchStart, Seal, Text};
use hearthjar::exchange::{
    Block, GAP, LIDS, Label, MARGIN, Paper, Placed, Shape, Size, fit, label, places, sheets, width,
};
use hearthjar::process::Pack;
use proptest::prelude::*;

fn any_shape() -> impl Strategy<Value = Shape> {
    prop_oneof![
        (4_000_u32..=9_500).prop_map(Shape::Round),
        (4_000_u32..=15_000, 2_500_u32..=10_000).prop_map(|(w, h)| Shape::Side(w, h)),
    ]
}

fn any_text() -> impl Strategy<Value = String> {
    prop_oneof![
        "[A-Za-z ]{0,60}",
        "[A-Za-z0-9]{0,200}",
        "\\PC{0,200}",
        "[W@…m]{150,200}",
        "[\u{4e00}-\u{4eff}\u{1f41f}]{0,200}",
    ]
}

fn any_blocks() -> impl Strategy<Value = Vec<Block>> {
    let ranks =
        [Size::Title, Size::Word, Size::Fact, Size::Fact, Size::Fact, Size::Small, Size::Small];
    proptest::collection::vec(any_text(), 7).prop_map(move |texts| {
        texts
            .into_iter()
            .zip(ranks)
            .map(|(text, size)| Block { size, strong: true, text: text.trim().to_owned() })
            .collect()
    })
}

/// Corners of the box that a line may fill: the whole of its room, from its top to
/// well below its base line.
fn corners(shape: Shape, line: &hearthjar::exchange::Line) -> [(f64, f64); 4] {
    let (x, y, size) = (f64::from(line.x), f64::from(line.y), f64::from(line.size));
    let wide = f64::from(width(&line.text, line.size));
    let (left, right) = match shape {
        Shape::Round(_) => (x - wide / 2.0, x + wide / 2.0),
        Shape::Side(..) => (x, x + wide),
    };
    // Ascenders and descenders of sans-serif types stay within these of the base line.
    let (top, bottom) = (y - 0.92 * size, y + 0.24 * size);
    [(left, top), (right, top), (left, bottom), (right, bottom)]
}

fn inside(shape: Shape, (x, y): (f64, f64)) -> bool {
    match shape {
        Shape::Round(d) => {
            let r = f64::from(d) / 2.0;
            (x - r).hypot(y - r) <= r
        }
        Shape::Side(w, h) => (0.0..=f64::from(w)).contains(&x) && (0.0..=f64::from(h)).contains(&y),
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 96, ..ProptestConfig::default() })]

    #[test]
    fn labels_never_overlap_nor_leave_the_printable_part(
        shape in any_shape(), letter in any::<bool>(), count in 0_usize..70,
    ) {
        let paper = if letter { Paper::Letter } else { Paper::A4 };
        let words = vec![Block { size: Size::Title, strong: true, text: "Trout".to_owned() }];
        let sheets: Vec<Vec<Placed>> = sheets(paper, shape, &vec![words; count]);
        prop_assert_eq!(sheets.iter().map(Vec::len).sum::<usize>(), count);
        let (width, height) = shape.bounds();
        let (paper_width, paper_height) = paper.size();
        let room = places(paper, shape).len();
        for (number, sheet) in sheets.iter().enumerate() {
            // Every sheet but the last is full.
            prop_assert!(sheet.len() == room || number + 1 == sheets.len());
            for (at, one) in sheet.iter().enumerate() {
                prop_assert!(one.x >= MARGIN && one.y >= MARGIN);
                prop_assert!(one.x + width <= paper_width - MARGIN);
                prop_assert!(one.y + height <= paper_height - MARGIN);
                for other in &sheet[at + 1..] {
                    let apart = one.x.abs_diff(other.x) >= width + GAP
                        || one.y.abs_diff(other.y) >= height + GAP;
                    prop_assert!(apart, "{:?} and {:?}", (one.x, one.y), (other.x, other.y));
                }
            }
        }
    }

    #[test]
    fn every_line_lies_inside_its_label(shape in any_shape(), blocks in any_blocks()) {
        let drawn = fit(shape, &blocks);
        let mut below = 0;
        for line in &drawn.lines {
            prop_assert!(line.size >= 130);
            prop_assert!(width(&line.text, line.size) <= line.room, "{line:?}");
            for corner in corners(shape, line) {
                prop_assert!(inside(shape, corner), "{line:?} leaves {shape:?}");
            }
            prop_assert!(line.y >= below + line.size, "lines overlap");
            below = line.y;
        }
        // Nothing vanishes in silence: every word is there, or an ellipsis says so.
        let shown: String = drawn.lines.iter().flat_map(|line| line.text.chars()).collect();
        for block in &blocks {
            let bare = |text: &str| text.chars().filter(|c| !c.is_whitespace()).collect::<String>();
            prop_assert!(bare(&shown).contains(&bare(&block.text)) || shown.contains('…'));
        }
    }
}

fn label_of(start: BatchStart, seals: &[Seal]) -> Label {
    let (archive, load) = processed(id(100), start, 3, seals);
    let batch = archive.batch(id(100)).unwrap();
    label(batch, batch.load(load).unwrap()).unwrap()
}

#[test]
fn a_label_says_what_a_jar_must_say() {
    let label = label_of(start(), &[Seal::Sealed, Seal::NotSealed, Seal::Sealed]);
    // Only jars found sealed; all of them while none is checked.
    assert_eq!(label.jars, [1, 3]);
    assert_eq!(label_of(start(), &[]).jars, [1, 2, 3]);
    let blocks = label.blocks(3, &utc);
    let texts: Vec<&str> = blocks.iter().map(|block| block.text.as_str()).collect();
    // The hold began some 35 min after 16:00 and ended before 19:00 the same day; quality is
    // best for 12 months (USDA Complete Guide, Guide 1, p. 1-12, 2015). Process:
    // Guide 5, pp. 5-10 and 5-11.
    assert_eq!(
        texts[..6],
        [
            "Trout, \"Ostermere\"\u{1f41f}",
            "Plain",
            "Canned 2025-11-24",
            "Best by 2026-11-24",
            "100 min at 10 psi (weighted), 0 ft",
            "07000000 load 1 jar 3",
        ]
    );
    assert!(texts[6].contains("USDA Complete Guide to Home Canning"));
    let smoked = BatchStart { pack: Pack::Smoked, ..start() };
    let smoked = label_of(smoked, &[]).blocks(1, &utc);
    assert_eq!(smoked[1].text, "Lightly smoked");
}

#[test]
fn the_proposed_labels_leave_room_for_an_error_of_the_lid() {
    for lid in LIDS {
        // 5 mm all round: more than any doubt about the nominal mouth.
        assert!(lid.label + 10 <= lid.mouth, "{lid:?}");
        let shape = Shape::Round(u32::from(lid.label) * 100);
        for paper in Paper::ALL {
            println!("{} {}: {} a sheet", paper.key(), lid.name, places(*paper, shape).len());
            assert!(places(*paper, shape).len() >= 6);
        }
        // The longest title a record can hold still shows every date and number.
        let long = Text::new(&"Smoked whitefish ".repeat(11)).unwrap();
        let blocks = label_of(BatchStart { content: long, ..start() }, &[]).blocks(1, &utc);
        let drawn = fit(shape, &blocks);
        let all: Vec<&str> = drawn.lines.iter().map(|line| line.text.as_str()).collect();
        let all = all.join(" ");
        for block in &blocks[1..] {
            assert!(all.contains(&block.text), "{} in {all}", block.text);
        }
        // An everyday label is not small print: a title of 3 mm or more.
        let usual = fit(shape, &label_of(start(), &[]).blocks(1, &utc));
        println!("{}: title {} of {:?}", lid.name, usual.lines[0].size, usual.lines);
        assert!(usual.lines[0].size >= 300);
    }
}
