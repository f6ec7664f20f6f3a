//! Height above sea level from the phone's position sensor; needs no signal.
//!
//! Invariant: the sensor's own doubt comes with the reading.

use super::js::{call, get, navigator, promise, set};
use js_sys::Object;
use wasm_bindgen::{JsValue, closure::Closure};
use wasm_bindgen_futures::JsFuture;

/// What the sensor says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Height {
    /// Metres above the WGS 84 ellipsoid, give or take metres (W3C Geolocation).
    Known(f64, f64),
    /// The phone may not tell: permission was not given.
    Denied,
    /// No sensor, no fix, or a fix without a height.
    Unknown,
}

/// Asks the sensor, for at most half a minute. Call inside a tap.
pub async fn height() -> Height {
    let Some(sensor) = get(&navigator(), "geolocation") else { return Height::Unknown };
    let asked = promise(|yes, no| {
        let options = Object::new();
        set(&options, "enableHighAccuracy", &JsValue::TRUE);
        set(&options, "timeout", &JsValue::from_f64(30_000.0));
        let got = Closure::once_into_js(move |fix: JsValue| {
            let _ = yes.call1(&JsValue::UNDEFINED, &fix);
        });
        let failed = Closure::once_into_js(move |error: JsValue| {
            let _ = no.call1(&JsValue::UNDEFINED, &error);
        });
        let _ = call(&sensor, "getCurrentPosition", &[got, failed, options.into()]);
    });
    match JsFuture::from(asked).await {
        Ok(fix) => known(&fix).unwrap_or(Height::Unknown),
        // GeolocationPositionError.PERMISSION_DENIED is 1.
        Err(error) if get(&error, "code").and_then(|code| code.as_f64()) == Some(1.0) => {
            Height::Denied
        }
        Err(_) => Height::Unknown,
    }
}

fn known(fix: &JsValue) -> Option<Height> {
    let coords = get(fix, "coords")?;
    let number = |name| get(&coords, name).and_then(|value| value.as_f64());
    Some(Height::Known(number("altitude")?, number("altitudeAccuracy")?))
}
