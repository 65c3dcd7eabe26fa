//! `evaluate`: the spine. A design goes in, a report comes out; every part that can be worked out is.
mod boards;
mod driver;
pub(crate) mod enclosure;
pub(super) mod feed;
mod kind;
mod path;
mod rings;
mod shape;
mod sound;
mod testbox;
mod wiring;

pub use enclosure::{flares, mouth_radius, tape_step};
pub(crate) use kind::passive_radiator;
pub(in crate::design) use path::body_share;
pub use path::driver_shares;
pub use rings::{Layer, LayerUse, PlateHole, RingReport, RingTubes, planned_rings, ring_report};
pub(crate) use sound::unequal;

use std::rc::Rc;

use super::document::Sheet;
use super::limits::FieldId;
use super::report::{Gap, Part, Report, WiringReport};
use super::warnings;
use crate::model::acoustics::datasheet::Resolved;
use crate::model::acoustics::{Air, Load};
use crate::model::electrical::amplifier::Amplifier;
use crate::small::VecMap;
use crate::units::{ExactLength, Pressure, Temperature, Voltage};

/// Points of every curve.
pub const POINTS: usize = 240;
/// Lowest frequency of every curve, Hz.
pub const LOWEST_HZ: f64 = 10.0;
/// Highest frequency of every curve, Hz.
pub const HIGHEST_HZ: f64 = 500.0;

/// Fields left empty and what counts instead.
pub(crate) type Filled = VecMap<FieldId, f64>;

/// Works out everything a sheet of entries comes to. Never fails: what is missing is named in its part.
#[must_use]
pub fn evaluate(sheet: &Sheet) -> Report {
    let (report, amplifier) = as_far_as_the_sound(sheet);
    with_feed(sheet, report, amplifier)
}

/// The whole report of a sheet, of which [`evaluate_first`] gave the first part.
#[must_use]
pub fn complete(sheet: &Sheet, first: &Report) -> Report {
    let mut report = first.clone();
    let amplifier = feed::amplifier(sheet, &mut report.filled);
    with_feed(sheet, report, amplifier)
}

/// What the first picture needs: driver, wiring, box and sound. The feed waits.
#[must_use]
pub fn evaluate_first(sheet: &Sheet) -> Report {
    let (mut report, _) = as_far_as_the_sound(sheet);
    report.warnings = warnings::all(&report, sheet).into();
    report
}

/// What the desk shows: the first picture and how loud it can get.
#[must_use]
#[inline(never)]
pub fn evaluate_desk(sheet: &Sheet) -> Report {
    let (mut report, amplifier) = as_far_as_the_sound(sheet);
    report.loud = sound::loud(sheet, &report, amplifier.as_ref().ok()).map(Rc::new);
    report.warnings = warnings::all(&report, sheet).into();
    report
}

fn as_far_as_the_sound(sheet: &Sheet) -> (Report, Part<Amplifier>) {
    let mut filled = Filled::new();
    let driver = driver::resolve(sheet, &mut filled).map(Rc::new);
    let amplifier = feed::amplifier(sheet, &mut filled);
    let wiring =
        wiring::report(sheet, driver.as_deref().ok(), amplifier.as_ref().ok(), &mut filled).map(Rc::new);
    let air = air(sheet);
    let load =
        driver.as_ref().ok().zip(wiring.as_ref().ok()).map(|(driver, wiring)| wiring::load(driver, wiring));
    let load = match load {
        Some(load) => load,
        None => Err(Gap::Waiting),
    };
    let enclosure =
        enclosure::report(sheet, load.as_ref().ok(), driver.as_deref().ok(), &air, &mut filled).map(Rc::new);
    // A wiring that the sound model can't describe says so itself.
    let refused = load.as_ref().err().filter(|gap| matches!(gap, Gap::Refused(_))).cloned();
    let sound = sound::report(
        sheet,
        &sound::Parts {
            load: load.as_ref().ok(),
            driver: driver.as_deref().ok(),
            wiring: wiring.as_deref().ok(),
            enclosure: enclosure.as_deref().ok(),
            air,
        },
        &mut filled,
    )
    .map_err(|gap| refused.unwrap_or(gap))
    .map(Rc::new);
    let report = Report {
        driver,
        wiring,
        enclosure,
        sound,
        loud: Err(Gap::Waiting),
        least_load: None,
        versions: Rc::from([]),
        feed: Err(Gap::Waiting),
        proof: None,
        filled,
        warnings: Rc::from([]),
    };
    (report, amplifier)
}

/// Battery to amplifier, how loud it can get, the load's true minimum: of no account to the first picture.
#[inline(never)]
fn with_feed(sheet: &Sheet, mut report: Report, amplifier: Part<Amplifier>) -> Report {
    if let Ok(amplifier) = &amplifier {
        report.versions = wiring::versions(sheet, amplifier).into();
    }
    if report.loud.is_err() {
        report.loud = sound::loud(sheet, &report, amplifier.as_ref().ok()).map(Rc::new);
    }
    let sound = report.sound.as_deref().ok();
    report.least_load = sound.map(|sound| wiring::least_load(sheet, sound, amplifier.as_ref().ok()));
    let parts =
        feed::Parts { driver: report.driver.as_deref().ok(), wiring: report.wiring.as_deref().ok(), sound };
    report.feed = feed::report(sheet, amplifier, &parts, &mut report.filled).map(Rc::new);
    report.proof = feed::proof(sheet);
    report.warnings = warnings::all(&report, sheet).into();
    report
}

/// What a box is put together for: the drivers as wired, how hard they may be driven, and the air.
pub(crate) struct Ground {
    pub(crate) driver: Rc<Resolved>,
    pub(crate) wiring: WiringReport,
    pub(crate) load: Load,
    pub(crate) air: Air,
    /// Most voltage: what the amplifier gives at this load, or the drive where that is not known.
    pub(crate) voltage: Voltage,
}

/// The ground of a design; `report` is what the design comes to.
pub(crate) fn ground(sheet: &Sheet, report: &Report) -> Part<Ground> {
    let driver = report.driver.clone()?;
    let wiring = (*report.wiring.clone()?).clone();
    let load = wiring::load(&driver, &wiring)?;
    wiring.chosen().ok_or(Gap::Waiting)?;
    let voltage = match path::amplifier_voltage(&wiring) {
        Some(voltage) => voltage,
        None => sound::drive(sheet, &wiring, &mut Filled::new())?.voltage,
    };
    Ok(Ground { driver, wiring, load, air: air(sheet), voltage })
}

/// The air in the box; standard air where the entries give none.
fn air(sheet: &Sheet) -> Air {
    let temperature = Temperature::from_celsius(sheet.si(FieldId::AirTemperature).unwrap_or(20.0));
    let altitude_m = sheet.si(FieldId::Altitude).unwrap_or(0.0);
    Air::at(temperature, pressure_at(altitude_m)).unwrap_or_else(|_| Air::standard())
}

/// Pressure of the standard atmosphere below 11 km: 101 325 Pa · (1 − 0.0065 h/288.15)^5.25588.
///
/// # Source
/// ISO 2533:1975, constants from memory.
fn pressure_at(altitude_m: f64) -> Pressure {
    Pressure::from_pascals(
        101_325.0 * (1.0 - 0.0065 * altitude_m.clamp(-500.0, 11_000.0) / 288.15).powf(5.255_88),
    )
}

/// Missing fields as the only set that would do.
fn missing(fields: &[FieldId]) -> Gap {
    Gap::Missing(vec![fields.to_vec()])
}

/// The length a field holds, or what is missing.
fn needed_length(sheet: &Sheet, id: FieldId) -> Part<ExactLength> {
    sheet.length(id).ok_or_else(|| missing(&[id]))
}

#[cfg(test)]
mod tests {
    use super::*;

    // ISO 2533 table: 89 874.6 Pa at 1000 m, 79 495.2 Pa at 2000 m (values from memory).
    #[test]
    fn standard_atmosphere() {
        assert!((pressure_at(1000.0).pascals() - 89_874.6).abs() < 2.0);
        assert!((pressure_at(2000.0).pascals() - 79_495.2).abs() < 2.0);
    }
}
