//! What a listener is told while a time runs.
//!
//! Outside source of the times: USDA Complete Guide to Home Canning, Guide 1 (2015),
//! p. 1-20 (vent 10 min), p. 1-22 (10 min before the lid); Guide 5, p. 5-12 (fish in
//! pints 100 min). Which moments are told of is our own choice: no source.

use hearthjar::present::milestone;
use hearthjar::units::Span;

/// Every sentence of a time in the order it is said, with the second it begins at.
fn said(minutes: i64) -> Vec<(i64, String)> {
    let whole = Span::minutes(minutes);
    let mut said: Vec<(i64, String)> = Vec::new();
    for second in 0..=minutes * 60 {
        let left = Span(whole.0 - second * 1000);
        let text = milestone(left, whole).unwrap_or_default();
        if said.last().map(|(_, text)| text) != Some(&text) {
            said.push((second, text));
        }
    }
    said
}

fn list(said: &[(i64, String)]) -> Vec<(i64, &str)> {
    said.iter().map(|(at, text)| (*at, text.as_str())).collect()
}

#[test]
fn a_long_time_is_told_of_at_half_and_near_its_end() {
    let told = said(100);
    let told = list(&told);
    let minute = |minute: i64| minute * 60;
    assert_eq!(
        told,
        [
            (0, ""),
            (minute(50), "Half the time is over."),
            (minute(70), "30 min or less to go."),
            (minute(90), "10 min or less to go."),
            (minute(95), "5 min or less to go."),
            (minute(99), "1 min or less to go."),
            (minute(100), ""),
        ]
    );
}

#[test]
fn a_short_time_is_told_of_less_often() {
    let told = said(10);
    assert_eq!(
        list(&told),
        [(0, ""), (300, "5 min or less to go."), (540, "1 min or less to go."), (600, "")]
    );
    // Forty minutes: half of it comes after its last thirty.
    let told = said(40);
    let told: Vec<&str> = told.iter().map(|(_, text)| text.as_str()).collect();
    let order = ["", "30 min or less to go.", "Half the time is over.", "10 min or less to go."];
    assert_eq!(told.get(..4), Some(&order[..]));
}

#[test]
fn no_sentence_comes_twice() {
    for minutes in 1..=200 {
        let told = said(minutes);
        for (index, (_, text)) in told.iter().enumerate() {
            let again = told.iter().skip(index + 1).any(|(_, later)| later == text);
            assert!(!again || text.is_empty(), "{minutes} min says twice: {text}");
        }
    }
}
