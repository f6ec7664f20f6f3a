//! The alarm: beeps made on the spot, no sound file.
//!
//! Invariant: browsers let a page sound only after a tap, so `prime` is called in
//! the tap that starts a run.

use super::js::{call, construct, get, navigator, set, window};
use js_sys::Array;
use std::cell::RefCell;
use wasm_bindgen::{JsValue, closure::Closure};

/// Whether a sound can be made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sound {
    /// It can.
    Ready,
    /// A tap is needed first.
    NeedsTap,
    /// This browser has none.
    Missing,
}

/// The timer that rings again, and what it calls.
type Ringing = (JsValue, Closure<dyn FnMut()>);

thread_local! {
    static CONTEXT: RefCell<Option<JsValue>> = const { RefCell::new(None) };
    static RINGING: RefCell<Option<Ringing>> = const { RefCell::new(None) };
}

fn context() -> Option<JsValue> {
    CONTEXT.with_borrow(Clone::clone)
}

/// How long the screen stands before the sound is made: its first picture goes first.
const AFTER_MS: f64 = 400.0;

/// Makes the sound a little ahead of the tap that starts a run, which is then answered
/// sooner. Only once a tap was made: before one, some browsers complain.
pub fn make_soon() {
    let tapped = get(&navigator(), "userActivation")
        .and_then(|taps| get(&taps, "hasBeenActive"))
        .and_then(|tapped| tapped.as_bool());
    if tapped != Some(false) && context().is_none() {
        super::clock::after(AFTER_MS, make);
    }
}

fn make() {
    if context().is_none() {
        let none = Array::new();
        let made =
            construct("AudioContext", &none).or_else(|| construct("webkitAudioContext", &none));
        CONTEXT.with_borrow_mut(|slot| *slot = made);
        // On phones that sort sounds: this one plays even when others are muted.
        if let Some(session) = get(&navigator(), "audioSession") {
            set(&session, "type", &JsValue::from_str("playback"));
        }
    }
}

/// Makes the sound ready, if it is not; must run inside a tap.
pub fn prime() {
    make();
    if state() != Sound::Ready {
        resume();
        beep(0.0, 0.02, 440.0, 0.001);
    }
}

fn resume() {
    if let Some(context) = context()
        && state() != Sound::Ready
    {
        let _ = call(&context, "resume", &[]);
    }
}

/// Whether a sound can be made now.
pub fn state() -> Sound {
    let Some(context) = context() else {
        return if get(&window(), "AudioContext").is_some() {
            Sound::NeedsTap
        } else {
            Sound::Missing
        };
    };
    let running = get(&context, "state").and_then(|state| state.as_string());
    if running.as_deref() == Some("running") { Sound::Ready } else { Sound::NeedsTap }
}

/// One beep: seconds from now, seconds long, hertz, loudness 0 to 1.
fn beep(after: f64, long: f64, hertz: f64, loud: f64) -> Option<()> {
    let context = context()?;
    let now = get(&context, "currentTime")?.as_f64()? + after;
    let tone = call(&context, "createOscillator", &[]).ok()?;
    let gain = call(&context, "createGain", &[]).ok()?;
    set(&get(&tone, "frequency")?, "value", &JsValue::from_f64(hertz));
    let level = get(&gain, "gain")?;
    let at = |value: f64, time: f64| [JsValue::from_f64(value), JsValue::from_f64(time)];
    call(&level, "setValueAtTime", &at(0.0, now)).ok()?;
    call(&level, "linearRampToValueAtTime", &at(loud, now + 0.01)).ok()?;
    call(&level, "setValueAtTime", &at(loud, now + long)).ok()?;
    call(&level, "linearRampToValueAtTime", &at(0.0, now + long + 0.03)).ok()?;
    call(&tone, "connect", std::slice::from_ref(&gain)).ok()?;
    call(&gain, "connect", &[get(&context, "destination")?]).ok()?;
    call(&tone, "start", &[JsValue::from_f64(now)]).ok()?;
    call(&tone, "stop", &[JsValue::from_f64(now + long + 0.05)]).ok()?;
    Some(())
}

/// Three rising notes.
pub fn chime() {
    resume();
    for (index, hertz) in [660.0, 880.0, 1100.0].into_iter().enumerate() {
        beep(index as f64 * 0.22, 0.16, hertz, 0.6);
    }
}

/// Rings until told to stop.
pub fn ring_on() {
    if RINGING.with_borrow(Option::is_some) {
        return;
    }
    chime();
    let again = Closure::<dyn FnMut()>::new(chime);
    let every = [again.as_ref().clone(), JsValue::from_f64(1_600.0)];
    if let Ok(timer) = call(&window(), "setInterval", &every) {
        RINGING.with_borrow_mut(|slot| *slot = Some((timer, again)));
    }
}

/// Stops ringing.
pub fn ring_off() {
    if let Some((timer, _)) = RINGING.with_borrow_mut(Option::take) {
        let _ = call(&window(), "clearInterval", &[timer]);
    }
}
