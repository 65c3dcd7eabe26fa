//! Driver and sound as JSON.
use serde_json::{Value, json};

use super::{Object, litres};
use crate::design::report::SoundReport;
use crate::model::acoustics::Response;
use crate::model::acoustics::datasheet::{Cause, Connection, Contradiction, Origin, Parameter, Resolved};
use crate::model::acoustics::figures::Extreme;
use crate::units::{Frequency, Length, Resistance};

/// Key of a parameter with its unit, and what turns SI into that unit.
const fn parameter(parameter: Parameter) -> (&'static str, f64) {
    match parameter {
        Parameter::Fs => ("fs_hz", 1.0),
        Parameter::Qes => ("qes", 1.0),
        Parameter::Qms => ("qms", 1.0),
        Parameter::Qts => ("qts", 1.0),
        Parameter::Vas => ("vas_litres", 1e3),
        Parameter::Sd => ("sd_cm2", 1e4),
        Parameter::Re => ("re_per_coil_ohm", 1.0),
        Parameter::Mms => ("mms_g", 1e3),
        Parameter::Cms => ("cms_mm_per_n", 1e3),
        Parameter::Bl => ("bl_tm", 1.0),
        Parameter::Xmax => ("xmax_mm", 1e3),
        Parameter::Vd => ("vd_cm3", 1e6),
        Parameter::Le => ("le_mh", 1e3),
    }
}

/// The driver: every value as measured on the sheet, and the driver they make with all coils in series.
pub(super) fn driver(resolved: &Resolved) -> Value {
    let mut values = Object::new();
    for found in &resolved.values {
        let (key, factor) = parameter(found.parameter);
        let origin = match found.origin {
            Origin::Given => "given",
            Origin::Derived => "derived",
        };
        values = values.with(key, json!({ "value": found.value * factor, "origin": origin }));
    }
    let (set, driver) = (&resolved.small_signal, &resolved.driver);
    let all_in_series = json!({
        "fs_hz": set.fs.hertz(),
        "qes": set.qes,
        "qms": set.qms,
        "qts": resolved.qts,
        "vas_litres": set.vas.litres(),
        "sd_cm2": set.sd.square_centimetres(),
        "re_ohm": set.re.ohms(),
        "mms_g": driver.mms.grams(),
        "cms_mm_per_n": driver.cms.millimetres_per_newton(),
        "bl_tm": driver.bl.tesla_metres(),
        "rms_ns_per_m": driver.rms_ns_m,
    });
    Object::new()
        .with("coils", resolved.coils)
        .with("values_as_measured", values)
        .with("all_coils_in_series", all_in_series)
        .maybe("xmax_mm", resolved.xmax.map(Length::millimetres))
        .with("reference_efficiency_percent", 100.0 * resolved.reference_efficiency)
        .with("sensitivity_1w_1m_db", resolved.sensitivity_1w_db)
        .with("contradictions", resolved.contradictions.iter().map(contradiction).collect::<Vec<_>>())
        .into()
}

fn contradiction(found: &Contradiction) -> Value {
    let (key, factor) = parameter(found.parameter);
    json!({
        "parameter": key,
        "printed": found.printed.value * factor,
        "expected": found.expected * factor,
        "expected_low": found.expected_low * factor,
        "expected_high": found.expected_high * factor,
        "causes": found.causes.iter().map(cause).collect::<Vec<_>>(),
    })
}

fn cause(cause: &Cause) -> Value {
    match cause {
        Cause::MeasuredIn(connection) => json!({
            "cause": "measured in another connection",
            "connection": match connection {
                Connection::OneCoil => "one coil",
                Connection::Series => "series",
                Connection::Parallel => "parallel",
            },
        }),
        Cause::ResistanceOfConnection => json!({ "cause": "Re of the connection, not of one coil" }),
        Cause::ResistanceOfOtherConnection { factor } => {
            json!({ "cause": "Re and Bl of different connections", "re_factor": factor })
        }
        Cause::Unit { parameter: which, factor } => {
            json!({ "cause": "another unit", "parameter": parameter(*which).0, "factor": factor })
        }
        Cause::XmaxPeakToPeak => json!({ "cause": "Xmax from peak to peak" }),
        Cause::VdPeakToPeak => json!({ "cause": "Vd from peak to peak" }),
    }
}

/// Drive, figures and curves.
pub(super) fn sound(sound: &SoundReport) -> Value {
    let resonance = if sound.qtc.is_some() { "fc_hz" } else { "fb_hz" };
    Object::new()
        .with(
            "air",
            json!({
                "density_kg_per_m3": sound.air.density_kg_m3(),
                "speed_of_sound_m_per_s": sound.air.speed_of_sound_m_s(),
            }),
        )
        .with(
            "drive",
            json!({ "voltage_v": sound.drive.voltage.volts(), "power_w": sound.drive.power.watts() }),
        )
        .with("net_litres", litres(sound.net))
        .with(resonance, sound.resonance.hertz())
        .maybe("qtc", sound.qtc)
        .maybe("xmax_mm", sound.xmax.map(Length::millimetres))
        .with("figures", figures(sound))
        .with("curves", curves(&sound.response))
        .into()
}

fn figures(sound: &SoundReport) -> Value {
    let found = &sound.figures;
    let length = |extreme: &Extreme<Length>| json!({ "peak_mm": extreme.value.millimetres(), "at_hz": extreme.at.hertz() });
    let ohm =
        |extreme: &Extreme<Resistance>| json!({ "ohm": extreme.value.ohms(), "at_hz": extreme.at.hertz() });
    let velocity =
        |extreme: &Extreme<f64>| json!({ "peak_m_per_s": extreme.value, "at_hz": extreme.at.hertz() });
    Object::new()
        .with("reference_level_db", found.reference_level_db)
        .with("loudest", json!({ "level_db": found.loudest_db.value, "at_hz": found.loudest_db.at.hertz() }))
        .maybe("f3_hz", found.f3.map(Frequency::hertz))
        .maybe("f10_hz", found.f10.map(Frequency::hertz))
        .with("excursion", length(&found.excursion))
        .with("port_velocities", found.duct_velocities_m_s.iter().map(velocity).collect::<Vec<_>>())
        .with("impedance_minimum", ohm(&found.impedance_minimum))
        .with("impedance_minimum_above_peaks", ohm(&found.impedance_minimum_above_peaks))
        .with("impedance_peaks", found.impedance_peaks.iter().map(ohm).collect::<Vec<_>>())
        .into()
}

fn curves(response: &Response) -> Value {
    let scaled = |values: &[f64], factor: f64| values.iter().map(|v| v * factor).collect::<Vec<_>>();
    let ducts = response.ducts.iter().map(|duct| duct.velocity_peak_m_s.clone());
    json!({
        "frequency_hz": response.frequencies_hz,
        "level_db": response.spl_db,
        "phase_degrees": response.phase_deg,
        "group_delay_ms": scaled(&response.group_delay_s, 1e3),
        "excursion_peak_mm": scaled(&response.excursion_peak_m, 1e3),
        "impedance_ohm": response.impedance_magnitude_ohm(),
        "impedance_phase_degrees": response.impedance_phase_deg(),
        "port_velocity_peak_m_per_s": ducts.collect::<Vec<_>>(),
    })
}
