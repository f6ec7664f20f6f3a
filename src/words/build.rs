//! Turns the files of texts of this folder into numbers for the compiler.
//!
//! Invariant: every text has its translation with the same gaps, and no two texts are
//! the same; `.ci/words.mjs` numbers them in the same order for the page.

use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::fs;
use std::path::Path;

/// The files in the order of the numbers: those of the page's first half, and the rest.
const FIRST: [&str; 5] = ["app", "stove", "domain", "tables", "publications"];
const LATER: [&str; 3] = ["desk", "plan", "later"];

/// The texts and their numbers.
pub struct Catalogue {
    texts: Vec<String>,
    numbers: BTreeMap<String, u16>,
    first: usize,
}

impl Catalogue {
    /// Reads the files.
    pub fn read(dir: &Path) -> Self {
        println!("cargo::rerun-if-changed={}", dir.display());
        let mut all = Self { texts: Vec::new(), numbers: BTreeMap::new(), first: 0 };
        for name in FIRST {
            all.take(&dir.join(format!("{name}.toml")));
        }
        all.first = all.texts.len();
        for name in LATER {
            all.take(&dir.join(format!("{name}.toml")));
        }
        all
    }

    /// Takes a file: one text a line, `"English" = "Spanish"`, in the order of the lines;
    /// an empty translation, the same words in both, is for publications only.
    fn take(&mut self, path: &Path) {
        let at = path.display();
        let file = fs::read_to_string(path).unwrap_or_else(|error| panic!("{at}: {error}"));
        for (line, text) in file.lines().enumerate() {
            if text.is_empty() || text.starts_with('#') {
                continue;
            }
            let at = format!("{at}:{}", line + 1);
            let pair: BTreeMap<String, String> =
                toml::from_str(text).unwrap_or_else(|error| panic!("{at}: {error}"));
            let Some((english, spanish)) = pair.into_iter().next() else {
                panic!("{at}: no text");
            };
            assert!(!english.contains('\n'), "{at}: a text is one line");
            if spanish.is_empty() {
                assert!(path.ends_with("publications.toml"), "{at}: no translation: {english}");
            } else {
                let same = gaps(&english) == gaps(&spanish);
                assert!(same, "{at}: the translation has other gaps");
            }
            let number =
                u16::try_from(self.texts.len()).unwrap_or_else(|_| panic!("{at}: too many"));
            let old = self.numbers.insert(english.clone(), number);
            assert!(old.is_none(), "{at}: there is this text already: {english}");
            self.texts.push(english);
        }
    }

    /// The number of a text of the tables, as code; stops the build if there is none.
    pub fn word(&self, text: &str) -> String {
        match self.numbers.get(text) {
            Some(number) => format!("Word::at({number})"),
            None => panic!("this text of the tables is in no file of src/words: {text:?}"),
        }
    }

    /// The code of `catalogue.rs`.
    pub fn code(&self) -> String {
        let mut hashes: Vec<(u64, u16)> =
            self.numbers.iter().map(|(text, number)| (hash(text.bytes()), *number)).collect();
        hashes.sort_unstable();
        assert!(hashes.windows(2).all(|two| two[0].0 != two[1].0), "two texts, one hash");
        let name = hash(self.texts.iter().flat_map(|text| text.bytes().chain([b'\n'])));
        let mut out = String::new();
        let _ = write!(
            out,
            "/// Names the catalogue.\npub(super) const NAME: &str = \"{name:016x}\";\n\
             /// How many texts the page's first half has.\n\
             pub(super) const FIRST: usize = {};\n\
             /// Hash and number of every text, sorted by hash.\n\
             #[allow(clippy::large_const_arrays, reason = \"read by the compiler only\")]\n\
             pub(super) const HASHES: [(u64, u16); {}] = {hashes:?};\n\
             #[cfg(not(target_arch = \"wasm32\"))]\n\
             pub(super) static ENGLISH: [&str; {}] = {:?};\n",
            self.first,
            hashes.len(),
            self.texts.len(),
            self.texts.iter().map(|text| shown(text)).collect::<Vec<_>>(),
        );
        out
    }
}

/// A text without the remark that tells it from its like.
fn shown(text: &str) -> &str {
    text.split_once("##").map_or(text, |(text, _)| text)
}

/// The gaps of a text, as the numbers of the values they take, sorted.
fn gaps(text: &str) -> Vec<usize> {
    let mut next = 0;
    let mut gaps: Vec<usize> = text
        .split('{')
        .skip(1)
        .map(|part| {
            let (gap, _) = part.split_once('}').unwrap_or_else(|| panic!("a gap is open: {text}"));
            gap.parse().unwrap_or_else(|_| {
                next += 1;
                next - 1
            })
        })
        .collect();
    gaps.sort_unstable();
    gaps
}

/// FNV-1a, 64 bits, as in `mod.rs`.
fn hash(bytes: impl Iterator<Item = u8>) -> u64 {
    bytes.fold(0xcbf2_9ce4_8422_2325, |hash, byte| {
        (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
    })
}
