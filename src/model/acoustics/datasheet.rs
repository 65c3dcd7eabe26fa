//! From the values a data sheet prints to a driver, in the connection the sheet measured.
//!
//! Coils on one former share their flux. Counted from one of nc equal coils: in series Re and Bl are nc times and Le
//! nc² times as large; in parallel Re is 1/nc, Bl and Le unchanged; one coil driven with the others open has nc times
//! the Qes of all together. Everything is resolved in the connection the sheet measured and then turned into the
//! driver with all its coils in series.
mod contradiction;
mod relations;

pub use contradiction::{Cause, Contradiction};

use super::check::within;
use super::{Air, CoilImpedance, Driver, SmallSignal};
use crate::model::error::ModelError;
use crate::units::{Area, Frequency, Inductance, Length, Resistance, Volume};
use relations::{Known, RELATED};
use thiserror::Error;

/// A printed value in SI units, and half of its last printed digit.
///
/// "0.42" is 0.42 ± 0.005: the value before rounding was somewhere in there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Printed {
    /// The value.
    pub value: f64,
    /// Half a unit of the last printed digit, zero or more.
    pub half_digit: f64,
}

impl Printed {
    /// A value and half of its last digit, both in SI units.
    #[must_use]
    pub const fn new(value: f64, half_digit: f64) -> Self {
        Self { value, half_digit }
    }

    /// Least value that prints so.
    #[must_use]
    pub fn low(&self) -> f64 {
        (self.value - self.half_digit).max(1e-6 * self.value)
    }

    /// Largest value that prints so.
    #[must_use]
    pub fn high(&self) -> f64 {
        self.value + self.half_digit
    }

    fn scaled(self, factor: f64) -> Self {
        Self::new(self.value * factor, self.half_digit * factor)
    }
}

/// A quantity a data sheet prints.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Parameter {
    /// Free-air resonance, Hz.
    Fs,
    /// Electrical Q.
    Qes,
    /// Mechanical Q.
    Qms,
    /// Compliance as a volume, m³.
    Vas,
    /// Piston area, m².
    Sd,
    /// Dc resistance of one coil, Ω.
    Re,
    /// Total Q.
    Qts,
    /// Moving mass, kg.
    Mms,
    /// Suspension compliance, m/N.
    Cms,
    /// Force factor, T·m.
    Bl,
    /// Linear excursion one way, m.
    Xmax,
    /// Displacement one way, m³.
    Vd,
    /// Inductance, H.
    Le,
}

/// Which coils the data sheet's Qes, Qts, Bl and Le were measured with.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Connection {
    /// One coil, the others open.
    OneCoil,
    /// All coils in series.
    #[default]
    Series,
    /// All coils in parallel.
    Parallel,
}

/// What a data sheet says of one driver.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DataSheet {
    /// Number of coils on the former: 1, 2 or 4.
    pub coils: u32,
    /// The connection measured; of no effect with one coil.
    pub measured: Connection,
    /// Free-air resonance in Hz.
    pub fs: Option<Printed>,
    /// Dc resistance of **one** coil in Ω.
    pub re_per_coil: Option<Printed>,
    /// Electrical Q in the connection measured.
    pub qes: Option<Printed>,
    /// Mechanical Q.
    pub qms: Option<Printed>,
    /// Total Q in the connection measured.
    pub qts: Option<Printed>,
    /// Compliance as a volume, m³.
    pub vas: Option<Printed>,
    /// Piston area, m².
    pub sd: Option<Printed>,
    /// Linear excursion one way, m.
    pub xmax: Option<Printed>,
    /// Inductance in the connection measured, H.
    pub le: Option<Printed>,
    /// Moving mass with its air load, kg.
    pub mms: Option<Printed>,
    /// Suspension compliance, m/N.
    pub cms: Option<Printed>,
    /// Force factor in the connection measured, T·m.
    pub bl: Option<Printed>,
    /// Displacement one way, Sd·Xmax, m³.
    pub vd: Option<Printed>,
    /// Excursion one way at which something hits, m.
    pub xmech: Option<Printed>,
    /// Height of the winding, m.
    pub coil_height: Option<Printed>,
    /// Height of the magnetic gap, m.
    pub gap_height: Option<Printed>,
}

impl Default for DataSheet {
    /// An empty sheet of a driver with one coil.
    fn default() -> Self {
        Self {
            coils: 1,
            measured: Connection::Series,
            fs: None,
            re_per_coil: None,
            qes: None,
            qms: None,
            qts: None,
            vas: None,
            sd: None,
            xmax: None,
            le: None,
            mms: None,
            cms: None,
            bl: None,
            vd: None,
            xmech: None,
            coil_height: None,
            gap_height: None,
        }
    }
}

/// Where a resolved value comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Origin {
    /// Printed, and used as printed.
    Given,
    /// Follows from others, whether or not it is also printed.
    Derived,
}

/// One value of a resolved driver.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Resolution {
    /// Which.
    pub parameter: Parameter,
    /// The value in SI units and in the connection measured; Re of one coil.
    pub value: f64,
    /// Where it comes from.
    pub origin: Origin,
}

/// A driver resolved from a data sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Resolved {
    /// The driver with all its coils in series.
    pub driver: Driver,
    /// Its small-signal set, all coils driven, in standard air.
    pub small_signal: SmallSignal,
    /// Qts, all coils driven.
    pub qts: f64,
    /// Reference efficiency η0 in standard air, all coils driven.
    pub reference_efficiency: f64,
    /// Level at 1 m in half space for 1 W into Re, dB.
    pub sensitivity_1w_db: f64,
    /// Linear excursion one way, if printed or following from Vd.
    pub xmax: Option<Length>,
    /// Dc resistance of one coil.
    pub re_per_coil: Resistance,
    /// Number of coils.
    pub coils: u32,
    /// Every value with its origin, in the connection measured.
    pub values: Vec<Resolution>,
    /// Printed values that don't fit the ones that win.
    pub contradictions: Vec<Contradiction>,
}

/// Why a data sheet gives no driver.
#[derive(Clone, Debug, Error, PartialEq)]
pub enum DataSheetError {
    /// Too little is printed.
    #[error("the data sheet doesn't determine the driver")]
    Missing {
        /// The smallest sets of values that would complete it, the usual ones first; never empty.
        smallest: Vec<Vec<Parameter>>,
    },
    /// A value is out of range, or values exclude one another.
    #[error(transparent)]
    Model(#[from] ModelError),
}

/// The driver a data sheet describes, and what on the sheet contradicts it.
///
/// fs, Qes, Qms, Vas, Sd and Re win where printed; Cms, Mms, Bl and Qts are used, in this order, only as far as they
/// are needed to find a missing one of those six. Vas is read in standard air.
///
/// # Errors
/// [`DataSheetError::Missing`] with what would complete the sheet; [`DataSheetError::Model`] for a value outside its
/// range, or printed values no driver can have, such as Qts above Qms.
///
/// # Source
/// The relations are those of Small, JAES 20 (1972) 383; the coil rules are checked against a coupled-inductor netlist.
pub fn resolve(sheet: &DataSheet) -> Result<Resolved, DataSheetError> {
    sheet.check()?;
    let plan = sheet.plan()?;
    let (values, resolved) = sheet.driver(&plan)?;
    let mut resolved = Resolved { contradictions: Vec::new(), values, ..resolved };
    resolved.contradictions = contradiction::explained(sheet, &plan);
    Ok(resolved)
}

/// Printed values used, in the order of [`RELATED`].
#[derive(Clone, Copy, Debug, PartialEq)]
struct Plan {
    used: [bool; RELATED.len()],
}

impl DataSheet {
    /// What is printed for a parameter, in the connection measured; Re of one coil.
    #[must_use]
    pub fn printed(&self, parameter: Parameter) -> Option<Printed> {
        match parameter {
            Parameter::Fs => self.fs,
            Parameter::Qes => self.qes,
            Parameter::Qms => self.qms,
            Parameter::Vas => self.vas,
            Parameter::Sd => self.sd,
            Parameter::Re => self.re_per_coil,
            Parameter::Qts => self.qts,
            Parameter::Mms => self.mms,
            Parameter::Cms => self.cms,
            Parameter::Bl => self.bl,
            Parameter::Xmax => self.xmax,
            Parameter::Vd => self.vd,
            Parameter::Le => self.le,
        }
    }

    /// Checks the number of coils and every printed value.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`].
    pub fn check(&self) -> Result<(), ModelError> {
        if !matches!(self.coils, 1 | 2 | 4) {
            return Err(ModelError::Impossible { what: "A driver has one, two or four coils" });
        }
        let rows = [
            ("fs in Hz", self.fs, 1.0, 1e4),
            ("Re in Ω", self.re_per_coil, 0.01, 1e3),
            ("Qes", self.qes, 0.01, 100.0),
            ("Qms", self.qms, 0.01, 1e3),
            ("Qts", self.qts, 0.01, 100.0),
            ("Vas in m³", self.vas, 1e-7, 1e3),
            ("Sd in m²", self.sd, 1e-6, 100.0),
            ("Xmax in m", self.xmax, 1e-5, 1.0),
            ("Le in H", self.le, 1e-9, 1.0),
            ("Mms in kg", self.mms, 1e-6, 100.0),
            ("Cms in m/N", self.cms, 1e-8, 1.0),
            ("Bl in T·m", self.bl, 0.01, 1e3),
            ("Vd in m³", self.vd, 1e-9, 1.0),
            ("mechanical limit in m", self.xmech, 1e-5, 1.0),
            ("winding height in m", self.coil_height, 1e-4, 1.0),
            ("gap height in m", self.gap_height, 1e-4, 1.0),
        ];
        for (what, printed, min, max) in rows {
            if let Some(printed) = printed {
                within(what, printed.value, min, max)?;
                within("half of a printed digit", printed.half_digit, 0.0, max)?;
            }
        }
        Ok(())
    }

    /// Which printed values are used: the winners, then the others as far as needed.
    fn plan(&self) -> Result<Plan, DataSheetError> {
        let mut plan = Plan { used: [false; RELATED.len()] };
        let mut known = [false; RELATED.len()];
        for (i, parameter) in RELATED.iter().enumerate() {
            if relations::wins(*parameter) && self.printed(*parameter).is_some() {
                (plan.used[i], known[i]) = (true, true);
            }
        }
        relations::spread(&mut known);
        for parameter in [Parameter::Cms, Parameter::Mms, Parameter::Bl, Parameter::Qts] {
            let i = relations::index(parameter);
            if !known[i] && self.printed(parameter).is_some() {
                (plan.used[i], known[i]) = (true, true);
                relations::spread(&mut known);
            }
        }
        if known.iter().all(|k| *k) {
            Ok(plan)
        } else {
            Err(DataSheetError::Missing { smallest: relations::smallest_completions(&known) })
        }
    }

    /// The values of the plan's inputs in the connection measured, each chosen from its printed value.
    fn inputs(&self, plan: &Plan, mut choose: impl FnMut(Printed) -> f64) -> Known {
        let mut known: Known = [None; RELATED.len()];
        for (i, parameter) in RELATED.iter().enumerate() {
            if plan.used[i]
                && let Some(printed) = self.printed(*parameter)
            {
                let factor = match parameter {
                    Parameter::Re => self.resistance_factor(),
                    _ => 1.0,
                };
                known[i] = Some(choose(printed) * factor);
            }
        }
        known
    }

    /// Re of the connection measured over Re of one coil.
    fn resistance_factor(&self) -> f64 {
        let coils = f64::from(self.coils);
        match self.measured {
            Connection::OneCoil => 1.0,
            Connection::Series => coils,
            Connection::Parallel => 1.0 / coils,
        }
    }

    fn driver(&self, plan: &Plan) -> Result<(Vec<Resolution>, Resolved), ModelError> {
        let air = Air::standard();
        let known = relations::propagate(self.inputs(plan, |printed| printed.value), air.bulk_modulus_pa())?;
        let value = |parameter| known[relations::index(parameter)].unwrap_or(f64::NAN);
        let coils = f64::from(self.coils);
        let re_one = value(Parameter::Re) / self.resistance_factor();
        // Against the measured connection: with one coil alone the motor brakes 1/nc as strongly as with all.
        let (qes_factor, le_factor) = match self.measured {
            Connection::OneCoil => (1.0 / coils, coils * coils),
            Connection::Series => (1.0, 1.0),
            Connection::Parallel => (1.0, coils * coils),
        };
        let small_signal = SmallSignal {
            fs: Frequency::from_hertz(value(Parameter::Fs)),
            qes: value(Parameter::Qes) * qes_factor,
            qms: value(Parameter::Qms),
            vas: Volume::from_cubic_metres(value(Parameter::Vas)),
            sd: Area::from_square_metres(value(Parameter::Sd)),
            re: Resistance::from_ohms(re_one * coils),
        };
        let coil = self.le.map_or(CoilImpedance::None, |le| CoilImpedance::L {
            le: Inductance::from_henries(le.value * le_factor),
        });
        let driver = Driver::from_small_signal(&small_signal, coil, &air)?;

        let mut values: Vec<Resolution> = RELATED
            .iter()
            .enumerate()
            .map(|(i, parameter)| Resolution {
                parameter: *parameter,
                value: match parameter {
                    Parameter::Re => re_one,
                    _ => value(*parameter),
                },
                origin: if plan.used[i] { Origin::Given } else { Origin::Derived },
            })
            .collect();
        let sd = value(Parameter::Sd);
        let xmax = self.xmax.or(self.vd.map(|vd| vd.scaled(1.0 / sd)));
        let origin_of = |printed: Option<Printed>| match printed {
            Some(_) => Origin::Given,
            None => Origin::Derived,
        };
        if let Some(xmax) = xmax {
            let (x_origin, vd_origin) = match self.xmax {
                Some(_) => (Origin::Given, Origin::Derived),
                None => (Origin::Derived, origin_of(self.vd)),
            };
            values.push(Resolution { parameter: Parameter::Xmax, value: xmax.value, origin: x_origin });
            values.push(Resolution { parameter: Parameter::Vd, value: xmax.value * sd, origin: vd_origin });
        }
        if let Some(le) = self.le {
            values.push(Resolution { parameter: Parameter::Le, value: le.value, origin: Origin::Given });
        }
        let resolved = Resolved {
            driver,
            qts: small_signal.qts(),
            reference_efficiency: small_signal.reference_efficiency(&air),
            sensitivity_1w_db: small_signal.sensitivity_1w_db(&air),
            small_signal,
            xmax: xmax.map(|x| Length::from_metres(x.value)),
            re_per_coil: Resistance::from_ohms(re_one),
            coils: self.coils,
            values: Vec::new(),
            contradictions: Vec::new(),
        };
        Ok((values, resolved))
    }
}
