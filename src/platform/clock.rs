//! Time and chance.

use super::window;

/// Milliseconds since 1 January 1970, UTC; the clock may be set back at any time.
pub fn now_ms() -> f64 {
    js_sys::Date::now()
}

/// Milliseconds that only ever grow, for measuring how long something took.
pub fn elapsed_ms() -> f64 {
    window().and_then(|window| window.performance()).map_or_else(now_ms, |performance| performance.now())
}

/// Twelve characters `0-9a-z` that no other record is likely to have: for names of records, not for secrets.
pub fn random_id() -> String {
    const DIGITS: &[u8; 36] = b"0123456789abcdefghijklmnopqrstuvwxyz";
    let digit = || DIGITS.get((js_sys::Math::random() * 36.0) as usize).copied().unwrap_or(b'0');
    (0..12).map(|_| char::from(digit())).collect()
}

/// A time in seconds since 1970 as the user's clock and calendar show it.
pub fn local_time(at_s: i64) -> String {
    let date = js_sys::Date::new(&wasm_bindgen::JsValue::from_f64(at_s as f64 * 1000.0));
    let two = |number: u32| format!("{number:02}");
    format!(
        "{}-{}-{} {}:{}",
        date.get_full_year(),
        two(date.get_month() + 1),
        two(date.get_date()),
        two(date.get_hours()),
        two(date.get_minutes())
    )
}
