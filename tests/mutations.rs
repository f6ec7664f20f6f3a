//! Damaged and hostile texts, by the tens of thousands: whatever comes in is taken
//! whole or not at all, never panics, and never swells in memory.
//!
//! `HEARTHJAR_MUTATIONS=1000000 cargo test --release --test mutations` tries a million.
#![allow(clippy::unwrap_used, clippy::indexing_slicing)] // a failed test may panic

mod common;

use common::finished::processed;
use common::start;
use hearthjar::batch::{Archive, Event, Id, Seal};
use hearthjar::exchange::{
    Code, MAX_BATCH_EVENTS, MAX_FILE_BYTES, ReadError, Swap, preview, read, read_any, restore,
    write,
};
use hearthjar::shelf::lots;
use hearthjar::units::EpochMs;
use sha2::{Digest, Sha256};
use std::time::Instant;

/// A small seeded generator (xorshift, Marsaglia 2003), so that a failure can be had again.
struct Dice(u64);

impl Dice {
    fn roll(&mut self, sides: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        usize::try_from(self.0 % u64::try_from(sides.max(1)).unwrap()).unwrap()
    }

    /// One to four changes, of bytes, pieces and whole tokens.
    fn mutate(&mut self, bytes: &mut Vec<u8>) {
        const TOKENS: [&str; 12] = [
            "{",
            "]",
            "\"\\ud800\"",
            "-0",
            "1e999",
            "99999999999999999999",
            "null",
            "\\u0000",
            "\"seq\":",
            "\"undone\":",
            "\u{202e}",
            "\r\n\r\n",
        ];
        for _ in 0..=self.roll(4) {
            let at = self.roll(bytes.len());
            let end = (at + self.roll(40)).min(bytes.len());
            match self.roll(7) {
                0 => bytes[at] = u8::try_from(self.roll(256)).unwrap(),
                1 => drop(bytes.remove(at)),
                2 => bytes.insert(at, b"{}[]\",:0-9eE\\u"[self.roll(14)]),
                3 => bytes.truncate(at.max(1)),
                4 => drop(bytes.drain(at..end)),
                5 => drop(bytes.splice(at..at, TOKENS[self.roll(12)].bytes())),
                _ => {
                    let copy = bytes[at..end].to_vec();
                    let to = self.roll(bytes.len());
                    drop(bytes.splice(to..to, copy));
                }
            }
            if bytes.is_empty() {
                bytes.push(b'x');
            }
        }
    }
}

/// A file around any JSON part, with the digest that belongs to it.
fn sealed(json: &str, entries: usize) -> String {
    let digest: String =
        Sha256::digest(json.trim_end()).iter().map(|b| format!("{b:02x}")).collect();
    format!("Hearthjar record 1\nx\nEntries: {entries}\nSHA-256: {digest}\n\n{json}\n")
}

/// The code around any packed bytes, with the check that belongs to them.
fn code_of(packed: &[u8]) -> String {
    let mut bytes = packed.to_vec();
    bytes.extend(&Sha256::digest(packed)[..4]);
    let mut digits = String::new();
    for piece in bytes.chunks(8) {
        let number = piece.iter().fold(0_u128, |sum, byte| sum * 256 + u128::from(*byte));
        let width = (256_u128.pow(u32::try_from(piece.len()).unwrap()) - 1).to_string().len();
        digits.push_str(&format!("{number:0width$}"));
    }
    format!("HEARTHJAR CODE 1 {} {digits}", bytes.len())
}

/// The bytes behind a code's digits, without its check.
fn packed_of(code: &Code) -> Vec<u8> {
    let length: usize = code.head.trim().rsplit(' ').next().unwrap().parse().unwrap();
    let mut bytes = Vec::new();
    let mut rest = code.digits.as_str();
    while bytes.len() < length {
        let size = (length - bytes.len()).min(8);
        let width = (256_u128.pow(u32::try_from(size).unwrap()) - 1).to_string().len();
        let number: u128 = rest[..width].parse().unwrap();
        bytes.extend(&number.to_be_bytes()[16 - size..]);
        rest = &rest[width..];
    }
    bytes.truncate(length - 4);
    bytes
}

/// Taking in what was read changes the record wholly, and can be taken back wholly.
fn whole(archive: &Archive, events: Vec<Event>) {
    assert_eq!(read(&write(&events)).unwrap(), events);
    let found = preview(archive, events.clone());
    let mut after = archive.clone();
    after.extend(found.intake.add().cloned());
    for event in &events {
        assert!(after.has(event.batch(), event.id()));
    }
    let _ = lots(&after, "trout");
    after.remove(&found.intake.names());
    after.extend(found.intake.replaced);
    assert!(after == *archive, "not taken back wholly");
    let mut swapped = archive.clone();
    restore(archive, events).swap.apply(&mut swapped);
}

#[test]
fn mutated_texts_never_panic_and_never_come_in_by_halves() {
    let count: usize =
        std::env::var("HEARTHJAR_MUTATIONS").ok().and_then(|n| n.parse().ok()).unwrap_or(50_000);
    let (archive, _) =
        processed(Id::from_bytes([9; 16]), start(), 2, &[Seal::Sealed, Seal::NotSealed]);
    let events: Vec<Event> = archive.all_events().cloned().collect();
    let some = &events[..4];
    let files = [write(some), write(&events)];
    let code = Code::of(&events).unwrap();
    assert_eq!(read_any(&code_of(&packed_of(&code))).unwrap(), events, "the harness packs right");
    let swap = Swap { come: some.to_vec(), go: events[4..6].to_vec() }.to_text(EpochMs(5));
    let mut dice = Dice(0x5eed_0fca_4f1e_9a7d);
    let (mut taken, mut refused) = ([0; 5], [0; 5]);
    for round in 0..count {
        let kind = round % 5;
        // The long file only now and then: it says little that the short one does not.
        let file = &files[usize::from(round % 40 >= 35)];
        let entries = if round % 40 >= 35 { events.len() } else { some.len() };
        let mut bytes = match kind {
            0 => file.clone().into_bytes(),
            1 => file.split_once("\n\n").unwrap().1.as_bytes().to_vec(),
            2 => code.text().into_bytes(),
            3 => packed_of(&code),
            _ => swap.clone().into_bytes(),
        };
        dice.mutate(&mut bytes);
        let text = String::from_utf8_lossy(&bytes).into_owned();
        let read = match kind {
            // Sealed again after the change, to get past the digest.
            1 => read_any(&sealed(&text, entries)).ok(),
            3 => read_any(&code_of(&bytes)).ok(),
            4 => Swap::from_text(&text).map(|(_, swap)| swap.come),
            _ => read_any(&text).ok(),
        };
        match read {
            Some(events) => {
                taken[kind] += 1;
                whole(&archive, events);
            }
            None => refused[kind] += 1,
        }
    }
    println!(
        "{count} mutated texts (files, files sealed again, codes, codes sealed again, kept \
         swaps): {taken:?} taken in whole, {refused:?} refused, 0 panics"
    );
    assert!(refused.iter().all(|refused| *refused > 0));
}

/// The most memory this process has held, MiB (Linux, proc(5), VmHWM).
fn peak_mib() -> Option<usize> {
    let status = std::fs::read_to_string("/proc/self/status").ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    Some(line.trim().trim_end_matches(" kB").parse::<usize>().ok()? / 1024)
}

#[test]
fn texts_made_to_swell_are_refused_soon_and_in_bounded_memory() {
    // A tenth of the largest file: enough to tell, and a test build reads slowly.
    let room = MAX_FILE_BYTES / 10;
    let filled = |unit: &str, head: &str, tail: &str| {
        format!("{head}{}{tail}", unit.repeat((room - head.len() - tail.len()) / unit.len()))
    };
    let bombs = [
        filled("0,", "{\"events\":[", "0]}"),
        filled("[],", "{\"events\":[[", "[]]]}"),
        filled("{\"a\":1},", "{\"events\":[{\"x\":[", "{}]}]}"),
        filled("0,", "{\"x\":[", "0],\"events\":[]}"),
        filled("\"a\":0,", "{\"events\":[],", "\"b\":0}"),
        filled("[", "{\"events\":[", ""),
        filled("{\"a\":", "{\"events\":", "}"),
        filled("\\u0041", "{\"events\":[{\"id\":\"", "\"}]}"),
        filled("9", "{\"events\":[{\"at\":", "}]}"),
    ];
    let began = Instant::now();
    let before = peak_mib();
    for json in &bombs {
        assert!(read(&sealed(json, 1)).is_err());
    }
    // One batch so large that its work would grow beyond all patience.
    let event = |n: usize| {
        format!("{{\"at\":1,\"batch\":\"{:032x}\",\"id\":\"{n:032x}\",\"seq\":1,\"what\":0}}", 5)
    };
    let many: Vec<String> = (0..=MAX_BATCH_EVENTS).map(event).collect();
    let text = sealed(&format!("{{\"events\":[{}]}}", many.join(",")), many.len());
    assert_eq!(read(&text), Err(ReadError::TooMany));
    let less = sealed(&format!("{{\"events\":[{}]}}", many[1..].join(",")), MAX_BATCH_EVENTS);
    assert_eq!(read(&less).unwrap().len(), MAX_BATCH_EVENTS);
    for length in ["4100", "4294967295"] {
        let code = format!("HEARTHJAR CODE 1 {length} {}", "9".repeat(1_000_000));
        assert!(read_any(&code).is_err());
    }
    if let (Some(before), Some(after)) = (before, peak_mib()) {
        // All texts together are 30 MiB and each is copied once; a list of so many
        // entries would alone be some 100.
        assert!(after.saturating_sub(before) < 64, "{before} MiB before, {after} after");
    }
    println!("bombs refused in {:?}", began.elapsed());
}
