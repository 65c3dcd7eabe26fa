//! Driver and sound as JSON.
use serde_json::{Value, json};

use super::{Object, litres};
use crate::design::report::{CeilingReport, FloorReport, LoudReport, SoundReport};
use crate::model::acoustics::datasheet::{Cause, Connection, Contradiction, Origin, Parameter, Resolved};
use crate::model::acoustics::figures::Extreme;
use crate::model::acoustics::{Cabin, Limiter, Response};
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
pub(super) fn sound(sound: &SoundReport, loud: Option<&LoudReport>) -> Value {
    let baffle = sound.net == crate::units::Volume::default();
    let (resonance, q) = match (baffle, sound.qtc) {
        (true, _) => ("fs_hz", "qts"),
        (_, Some(_)) => ("fc_hz", "qtc"),
        _ => ("fb_hz", "qtc"),
    };
    let gains = sound.built.path.gain_db(&sound.response.frequencies_hz);
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
        .maybe("net_litres", (!baffle).then(|| litres(sound.net)))
        .with(resonance, sound.resonance.hertz())
        .maybe(q, sound.qtc)
        .maybe("xmax_mm", sound.xmax.map(Length::millimetres))
        .with("figures", figures(sound))
        .with("curves", curves(&sound.response))
        .maybe("ceiling", loud.and_then(|loud| loud.ceiling.as_ref()).map(ceiling))
        .with("filters", json!({ "gain_db": gains, "stages": sound.built.path.stages.len() }))
        .maybe("clipped_from_hz", sound.clipped.map(Frequency::hertz))
        .maybe("intake", loud.map(|LoudReport { intake, .. }| json!({ "current_a": intake.current_a, "power_w": intake.power_w })))
        .maybe("cabin", sound.cabin.map(|cabin| self::cabin(&cabin, &sound.response)))
        .maybe("heat", loud.map(heat))
        .maybe("floor", sound.floor.as_ref().map(floor))
        .into()
}

/// Key of a limit.
const fn limiter(limiter: Limiter) -> &'static str {
    match limiter {
        Limiter::Cone => "cone travel",
        Limiter::Radiator => "radiator travel",
        Limiter::Port => "port air speed",
        Limiter::Coil => "coil heat",
        Limiter::Voltage => "amplifier voltage",
        Limiter::Current => "amplifier current",
    }
}

fn ceiling(report: &CeilingReport) -> Value {
    let segment = |(from, to, what): &(Frequency, Frequency, Limiter)| json!({ "from_hz": from.hertz(), "to_hz": to.hertz(), "limit": limiter(*what) });
    Object::new()
        .with("level_db", report.curve.level_db.clone())
        .with("voltage_v", report.curve.voltage_v.clone())
        .with("segments", report.segments.iter().map(segment).collect::<Vec<_>>())
        .maybe("high_pass_hz", report.high_pass.map(Frequency::hertz))
        .into()
}

fn cabin(cabin: &Cabin, response: &Response) -> Value {
    let gains = response.frequencies_hz.iter().map(|f| cabin.gain_db(Frequency::from_hertz(*f)));
    json!({ "corner_hz": cabin.corner.hertz(), "share": cabin.share, "gain_db": gains.collect::<Vec<_>>() })
}

fn heat(loud: &LoudReport) -> Value {
    Object::new()
        .maybe("warming_k", loud.heat.warming_k)
        .maybe("compression_db", loud.heat.compression_db)
        .with("compression_at_100_k_db", loud.heat.compression_at_100_k_db)
        .maybe("time_s", loud.heat.time_s)
        .into()
}

fn floor(floor: &FloorReport) -> Value {
    let peak = |(without, with): &(Frequency, Frequency)| json!({ "without_hz": without.hertz(), "with_hz": with.hertz() });
    json!({
        "sag_mm": floor.sag.millimetres(),
        "gap_mm": floor.gap.millimetres(),
        "least_gap_mm": floor.least.millimetres(),
        "added_mass_g": floor.added.grams(),
        "fs_hz": floor.fs.0.hertz(),
        "fs_over_floor_hz": floor.fs.1.hertz(),
        "impedance_peaks": floor.peaks.iter().map(peak).collect::<Vec<_>>(),
    })
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
        .with("radiator_excursions", found.radiator_excursions.iter().map(length).collect::<Vec<_>>())
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
