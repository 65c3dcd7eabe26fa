//! Reads a case: one driver, wiring, source and enclosure as JSON in SI units, and answers with its curves as CSV.
//!
//! The schema is that of the reference cases in `tests/published/data/acoustics/cases`. Only the given fields count;
//! whatever else the file holds, such as values derived from them, is ignored.

use crate::model::acoustics::{
    Air, CoilImpedance, Drive, Driver, Enclosure, End, Load, Losses, Opening, PassiveRadiator, Port,
    Response, SealedChamber, VentedChamber, Wiring, respond,
};
use crate::model::error::ModelError;
use crate::model::numeric::log_grid;
use crate::units::{
    Area, Compliance, ForceFactor, Inductance, Length, Mass, Pressure, Resistance, Temperature, Voltage,
    Volume,
};
use serde::Deserialize;
use std::fmt::Write;
use thiserror::Error;

/// Why a case gives no curves.
#[derive(Debug, Error)]
pub enum CaseError {
    /// The text is not JSON of this schema.
    #[error("The case can't be read: {0}")]
    Format(#[from] serde_json::Error),
    /// A value is outside what the model covers.
    #[error("The case can't be computed: {0}")]
    Model(#[from] ModelError),
}

/// The curves of a case as CSV on 200 frequencies from 10 Hz to 500 Hz, numbers in nine significant digits.
///
/// Columns: f_hz, spl_db, p_phase_deg, x_peak_mm, z_ohm, z_phase_deg, gd_ms, then for each chamber with a port
/// port_rear_v_peak_m_s and port_front_v_peak_m_s, or pr_x_peak_mm with passive radiators.
///
/// # Errors
/// [`CaseError`] if the text is not a case or its values are outside their ranges.
pub fn case_csv(json: &str) -> Result<String, CaseError> {
    let case: Case = serde_json::from_str(json)?;
    let (response, columns) = case.respond(&log_grid(10.0, 500.0, 200))?;
    Ok(csv(&response, columns))
}

/// The curves of a response as CSV in the columns of [`case_csv`], numbers in nine significant digits.
///
/// The first duct is taken for the port of the chamber behind the drivers, the second for that of the one before them.
#[must_use]
pub fn response_csv(response: &Response) -> String {
    let columns: Columns = match (response.ducts.len(), response.radiators.len()) {
        (0, 0) => &[],
        (0, _) => &["pr_x_peak_mm"],
        (1, _) => &[REAR],
        _ => &[REAR, FRONT],
    };
    csv(response, columns)
}

#[derive(Deserialize)]
struct Case {
    air: CaseAir,
    driver: CaseDriver,
    #[serde(default)]
    wiring: CaseWiring,
    source: CaseSource,
    enclosure: CaseEnclosure,
}

#[derive(Deserialize)]
struct CaseAir {
    temperature_c: f64,
    pressure_pa: f64,
}

#[derive(Deserialize)]
struct CaseDriver {
    re_ohm: f64,
    bl_tm: f64,
    mms_kg: f64,
    cms_m_n: f64,
    rms_ns_m: f64,
    sd_m2: f64,
    #[serde(default)]
    coil: CaseCoil,
}

#[derive(Default, Deserialize)]
#[serde(tag = "model")]
enum CaseCoil {
    #[default]
    #[serde(rename = "none")]
    None,
    L {
        le_h: f64,
    },
    #[serde(rename = "LR2")]
    Lr2 {
        le_h: f64,
        l2_h: f64,
        r2_ohm: f64,
    },
    #[serde(rename = "power")]
    Power {
        k: f64,
        n: f64,
    },
    #[serde(rename = "semi")]
    Semi {
        leb_h: f64,
        le_h: f64,
        ke: f64,
        rss_ohm: Option<f64>,
    },
}

#[derive(Deserialize)]
struct CaseWiring {
    n_series: usize,
    n_parallel: usize,
}

impl Default for CaseWiring {
    /// One driver.
    fn default() -> Self {
        Self { n_series: 1, n_parallel: 1 }
    }
}

#[derive(Deserialize)]
struct CaseSource {
    e_rms_v: f64,
    #[serde(default)]
    r_source_ohm: f64,
    #[serde(default = "one_metre")]
    distance_m: f64,
}

fn one() -> u32 {
    1
}

fn one_metre() -> f64 {
    1.0
}

#[derive(Deserialize)]
#[serde(tag = "type", rename_all = "snake_case")]
enum CaseEnclosure {
    InfiniteBaffle,
    Closed { rear: CaseSealed },
    Vented { rear: CaseVented },
    PassiveRadiator { rear: CaseSealed, pr: CaseRadiator },
    Bandpass4 { rear: CaseSealed, front: CaseVented },
    Bandpass6Parallel { rear: CaseVented, front: CaseVented },
    Bandpass6Series { rear: CaseVented, front: CaseVented },
    PushPull { rear: CaseSealed },
}

#[derive(Deserialize)]
struct CaseSealed {
    volume_m3: f64,
    ql: Option<f64>,
    qa: Option<f64>,
}

#[derive(Deserialize)]
struct CaseVented {
    volume_m3: f64,
    ql: Option<f64>,
    qa: Option<f64>,
    port: CasePort,
}

#[derive(Deserialize)]
struct CasePort {
    #[serde(flatten)]
    shape: CaseShape,
    #[serde(default = "one")]
    count: u32,
    end_inner: CaseEnd,
    end_outer: CaseEnd,
    length_m: f64,
    qp: Option<f64>,
}

#[derive(Deserialize)]
#[serde(tag = "shape", rename_all = "snake_case")]
enum CaseShape {
    Round { diameter_m: f64 },
    Slot { width_m: f64, height_m: f64 },
}

#[derive(Clone, Copy, Deserialize)]
#[serde(rename_all = "snake_case")]
enum CaseEnd {
    Flanged,
    Free,
    RectFlanged,
    RectWall,
    RectCorner,
}

#[derive(Deserialize)]
struct CaseRadiator {
    sd_m2: f64,
    mms_kg: f64,
    cms_m_n: f64,
    rms_ns_m: f64,
    #[serde(default = "one")]
    count: u32,
}

/// The names of the columns after the seven common ones: one per duct, then one per radiator.
type Columns = &'static [&'static str];
const COMMON: &str = "f_hz,spl_db,p_phase_deg,x_peak_mm,z_ohm,z_phase_deg,gd_ms";
const REAR: &str = "port_rear_v_peak_m_s";
const FRONT: &str = "port_front_v_peak_m_s";

impl Case {
    fn respond(&self, frequencies_hz: &[f64]) -> Result<(Response, Columns), ModelError> {
        if self.wiring.n_series.max(self.wiring.n_parallel) > 64 {
            return Err(ModelError::Impossible { what: "More than 64 drivers in series or parallel" });
        }
        let air = Air::at(
            Temperature::from_celsius(self.air.temperature_c),
            Pressure::from_pascals(self.air.pressure_pa),
        )?;
        let load = Load {
            driver: self.driver.model(),
            wiring: Wiring::of_drivers(self.wiring.n_series, self.wiring.n_parallel),
        };
        let (enclosure, columns) = self.enclosure.model();
        let drive = Drive {
            voltage: Voltage::from_volts(self.source.e_rms_v),
            source_resistance: Resistance::from_ohms(self.source.r_source_ohm),
            distance: Length::from_metres(self.source.distance_m),
        };
        let network = enclosure.network(load, air)?;
        Ok((respond(&network, drive, frequencies_hz)?, columns))
    }
}

impl CaseDriver {
    fn model(&self) -> Driver {
        Driver {
            re: Resistance::from_ohms(self.re_ohm),
            coil: self.coil.model(),
            bl: ForceFactor::from_tesla_metres(self.bl_tm),
            mms: Mass::from_kilograms(self.mms_kg),
            cms: Compliance::from_metres_per_newton(self.cms_m_n),
            rms_ns_m: self.rms_ns_m,
            sd: Area::from_square_metres(self.sd_m2),
        }
    }
}

impl CaseCoil {
    fn model(&self) -> CoilImpedance {
        match *self {
            Self::None => CoilImpedance::None,
            Self::L { le_h } => CoilImpedance::L { le: Inductance::from_henries(le_h) },
            Self::Lr2 { le_h, l2_h, r2_ohm } => CoilImpedance::Lr2 {
                le: Inductance::from_henries(le_h),
                l2: Inductance::from_henries(l2_h),
                r2: Resistance::from_ohms(r2_ohm),
            },
            Self::Power { k, n } => CoilImpedance::Power { k, n },
            Self::Semi { leb_h, le_h, ke, rss_ohm } => CoilImpedance::Semi {
                leb: Inductance::from_henries(leb_h),
                le: Inductance::from_henries(le_h),
                ke,
                rss: rss_ohm.map(Resistance::from_ohms),
            },
        }
    }
}

impl CaseEnclosure {
    fn model(&self) -> (Enclosure, Columns) {
        match self {
            Self::InfiniteBaffle => (Enclosure::InfiniteBaffle, &[]),
            Self::Closed { rear } => (Enclosure::Closed { rear: rear.model() }, &[]),
            Self::PushPull { rear } => (Enclosure::PushPull { rear: rear.model() }, &[]),
            Self::Vented { rear } => (Enclosure::Vented { rear: rear.model() }, &[REAR]),
            Self::PassiveRadiator { rear, pr } => {
                (Enclosure::PassiveRadiator { rear: rear.model(), radiator: pr.model() }, &["pr_x_peak_mm"])
            }
            Self::Bandpass4 { rear, front } => {
                (Enclosure::Bandpass4 { rear: rear.model(), front: front.model() }, &[FRONT])
            }
            Self::Bandpass6Parallel { rear, front } => {
                (Enclosure::Bandpass6Parallel { rear: rear.model(), front: front.model() }, &[REAR, FRONT])
            }
            Self::Bandpass6Series { rear, front } => {
                (Enclosure::Bandpass6Series { rear: rear.model(), front: front.model() }, &[REAR, FRONT])
            }
        }
    }
}

impl CaseSealed {
    fn model(&self) -> SealedChamber {
        SealedChamber {
            volume: Volume::from_cubic_metres(self.volume_m3),
            losses: Losses { ql: self.ql, qa: self.qa },
        }
    }
}

impl CaseVented {
    fn model(&self) -> VentedChamber {
        VentedChamber {
            volume: Volume::from_cubic_metres(self.volume_m3),
            losses: Losses { ql: self.ql, qa: self.qa },
            port: Port {
                opening: match self.port.shape {
                    CaseShape::Round { diameter_m } => {
                        Opening::Round { diameter: Length::from_metres(diameter_m) }
                    }
                    CaseShape::Slot { width_m, height_m } => Opening::Slot {
                        width: Length::from_metres(width_m),
                        height: Length::from_metres(height_m),
                    },
                },
                length: Length::from_metres(self.port.length_m),
                inner: self.port.end_inner.model(),
                outer: self.port.end_outer.model(),
                count: self.port.count,
                qp: self.port.qp,
            },
        }
    }
}

impl CaseEnd {
    fn model(self) -> End {
        match self {
            Self::Flanged => End::Flanged,
            Self::Free => End::Free,
            Self::RectFlanged => End::RectFlanged,
            Self::RectWall => End::RectWall,
            Self::RectCorner => End::RectCorner,
        }
    }
}

impl CaseRadiator {
    fn model(&self) -> PassiveRadiator {
        PassiveRadiator {
            sd: Area::from_square_metres(self.sd_m2),
            mms: Mass::from_kilograms(self.mms_kg),
            cms: Compliance::from_metres_per_newton(self.cms_m_n),
            rms_ns_m: self.rms_ns_m,
            count: self.count,
        }
    }
}

fn csv(response: &Response, columns: Columns) -> String {
    let mut text = String::from(COMMON);
    for column in columns {
        text.push(',');
        text.push_str(column);
    }
    text.push('\n');
    let magnitudes = response.impedance_magnitude_ohm();
    let phases = response.impedance_phase_deg();
    let common = response
        .frequencies_hz
        .iter()
        .zip(&response.spl_db)
        .zip(&response.phase_deg)
        .zip(&response.excursion_peak_m)
        .zip(&magnitudes)
        .zip(&phases)
        .zip(&response.group_delay_s);
    for (i, ((((((f, spl), phase), x), z), z_phase), delay)) in common.enumerate() {
        text.push_str(&nine_digits(*f));
        for value in [*spl, *phase, 1e3 * x, *z, *z_phase, 1e3 * delay] {
            push_number(&mut text, value);
        }
        for duct in &response.ducts {
            duct.velocity_peak_m_s.get(i).iter().for_each(|v| push_number(&mut text, **v));
        }
        for radiator in &response.radiators {
            radiator.excursion_peak_m.get(i).iter().for_each(|x| push_number(&mut text, 1e3 * **x));
        }
        text.push('\n');
    }
    text
}

fn push_number(text: &mut String, value: f64) {
    text.push(',');
    text.push_str(&nine_digits(value));
}

/// A number in nine significant digits without trailing zeros; very small and very large ones with an exponent.
fn nine_digits(value: f64) -> String {
    if value == 0.0 {
        return "0".to_owned();
    }
    let exponent = value.abs().log10().floor();
    let mut text = String::new();
    // Writing to a String can't fail.
    let _ = if (-5.0..9.0).contains(&exponent) {
        let decimals = (8.0 - exponent) as usize;
        write!(text, "{value:.decimals$}")
    } else {
        write!(text, "{value:.8e}")
    };
    if text.contains('.') && !text.contains('e') {
        let kept = text.trim_end_matches('0').trim_end_matches('.').len();
        text.truncate(kept);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_have_nine_significant_digits() {
        for (value, text) in [
            (10.0, "10"),
            (123.456_789_012, "123.456789"),
            (-0.001_234_567_894_9, "-0.00123456789"),
            (0.0, "0"),
            (1.5e-12, "1.50000000e-12"),
        ] {
            assert_eq!(nine_digits(value), text);
        }
    }

    #[test]
    fn what_is_not_a_case_is_refused() {
        for text in ["", "{}", "[1,2]", "{\"air\":{\"temperature_c\":1e999}}"] {
            assert!(matches!(case_csv(text), Err(CaseError::Format(_))), "{text}");
        }
    }
}
