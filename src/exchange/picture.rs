//! A batch as a picture code (QR, ISO/IEC 18004) for another phone's camera.
//!
//! Invariant: the picture holds the whole text of the code, or there is none.

use super::code::Code;
use crate::batch::Event;
use crate::t;
use qrcodegen::{QrCode, QrCodeEcc, QrSegment, Version};

/// The largest picture made, as a version: 125 modules with its margin, so that one
/// module is still 2.5 px of the narrowest screen, 320 px wide. A larger one is hard
/// for a camera to hold still on (common practice, no source).
pub const LARGEST: u8 = 25;
/// Light modules around the picture (ISO/IEC 18004, quiet zone).
pub const QUIET: u16 = 4;

/// A picture code.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Picture {
    /// Modules a side, margin included.
    pub side: u16,
    /// The dark modules as the path of an SVG, one unit a module.
    pub path: String,
    /// The text it holds.
    pub text: String,
}

/// Why there is no picture.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TooLarge;

impl core::fmt::Display for TooLarge {
    fn fmt(&self, f: &mut core::fmt::Formatter<'_>) -> core::fmt::Result {
        f.write_str(t!("This batch holds too much for a picture. Hand it over as a file instead."))
    }
}

impl core::error::Error for TooLarge {}

/// The picture of one batch's events.
///
/// # Errors
/// [`TooLarge`] if it would pass the size a camera reads well.
pub fn picture(events: &[Event]) -> Result<Picture, TooLarge> {
    let code = Code::of(events).ok_or(TooLarge)?;
    let segments =
        [QrSegment::make_alphanumeric(&code.head), QrSegment::make_numeric(&code.digits)];
    let (least, most) = (Version::MIN, Version::new(LARGEST));
    let qr = QrCode::encode_segments_advanced(&segments, QrCodeEcc::Low, least, most, None, true)
        .map_err(|_| TooLarge)?;
    let margin = i32::from(QUIET);
    let mut path = String::new();
    for y in 0..qr.size() {
        let mut x = 0;
        while x < qr.size() {
            let start = x;
            while qr.get_module(x, y) {
                x += 1;
            }
            if x > start {
                let long = x - start;
                path.push_str(&format!("M{} {}h{long}v1h-{long}z", start + margin, y + margin));
            }
            x += 1;
        }
    }
    let side = u16::try_from(qr.size() + 2 * margin).map_err(|_| TooLarge)?;
    Ok(Picture { side, path, text: code.text() })
}
