//! The few numbers beside the curves.
use super::format::{Shown, fixed, si};
use crate::design::report::{DriveReport, SoundReport};
use crate::model::acoustics::figures::Extreme;
use crate::units::{Quantity, UnitPrefs};
use crate::words::{acoustics, name};

/// A figure: its value, where it lies, and what it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Figure {
    /// Stable name, for tests.
    pub key: &'static str,
    /// The value.
    pub value: Shown,
    /// Where on the frequency axis, or another short addition.
    pub at: String,
    /// What it is.
    pub name: &'static str,
}

fn figure(key: &'static str, name: &'static str, value: Shown, at: Option<f64>) -> Figure {
    let at = at.map_or_else(String::new, |hz| format!("at {}\u{a0}Hz", hertz(hz)));
    Figure { key, value, at, name }
}

/// A frequency with no decimal that nobody can hear.
#[must_use]
pub fn hertz(hz: f64) -> String {
    fixed(hz, usize::from(hz < 20.0))
}

fn shown(number: String, unit: &'static str) -> Shown {
    Shown { number, unit }
}

/// Whether there is no box: an infinite baffle.
#[must_use]
pub fn is_baffle(sound: &SoundReport) -> bool {
    sound.net.cubic_metres() == 0.0
}

/// Figures of the sound, most wanted first.
#[must_use]
pub fn of_sound(sound: &SoundReport, prefs: &UnitPrefs) -> Vec<Figure> {
    let found = &sound.figures;
    let frequency = |hz: Option<f64>| match hz {
        Some(hz) => shown(hertz(hz), "Hz"),
        None => shown(super::format::NO_NUMBER.into(), ""),
    };
    let resonance = sound.resonance.hertz();
    let baffle = is_baffle(sound);
    let mut figures = Vec::new();
    if !baffle {
        let net = si(sound.net.cubic_metres(), Quantity::Volume, prefs);
        figures.push(figure("net", name::NET, net, None));
    }
    match sound.qtc {
        Some(qts) if baffle => {
            figures.push(figure("qts", acoustics::QTS, shown(fixed(qts, 2), ""), None));
            figures.push(figure("fs", acoustics::FS, shown(fixed(resonance, 1), "Hz"), None));
        }
        Some(qtc) => {
            figures.push(figure("qtc", name::QTC, shown(fixed(qtc, 2), ""), None));
            figures.push(figure("fc", name::FC, shown(fixed(resonance, 1), "Hz"), None));
        }
        None => figures.push(figure("fb", name::FB, shown(fixed(resonance, 1), "Hz"), None)),
    }
    figures.push(figure("f3", name::F3, frequency(found.f3.map(|f| f.hertz())), None));
    figures.push(figure("f10", name::F10, frequency(found.f10.map(|f| f.hertz())), None));
    let travel = found.excursion;
    figures.push(figure(
        "travel",
        name::TRAVEL,
        shown(fixed(travel.value.millimetres(), 1), "mm"),
        Some(travel.at.hertz()),
    ));
    if let Some(travel) = found.radiator_excursions.first() {
        let value = shown(fixed(travel.value.millimetres(), 1), "mm");
        figures.push(figure("radiator", acoustics::RADIATOR, value, Some(travel.at.hertz())));
    }
    let fastest = |a: &Extreme<f64>, b: &Extreme<f64>| a.value.total_cmp(&b.value);
    if let Some(speed) = found.duct_velocities_m_s.iter().copied().max_by(fastest) {
        figures.push(figure(
            "port",
            name::PORT_SPEED,
            shown(fixed(speed.value, 1), "m/s"),
            Some(speed.at.hertz()),
        ));
    }
    let least = found.impedance_minimum;
    figures.push(figure(
        "z",
        name::LEAST_Z,
        shown(fixed(least.value.ohms(), 2), "Ω"),
        Some(least.at.hertz()),
    ));
    figures
}

/// The drive as voltage and power, both.
#[must_use]
pub fn drive(drive: &DriveReport) -> String {
    let watts = drive.power.watts();
    let watts = if watts < 10.0 { fixed(watts, 1) } else { fixed(watts, 0) };
    format!("{watts}\u{a0}W, {}\u{a0}V", fixed(drive.voltage.volts(), 1))
}
