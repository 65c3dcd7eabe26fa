//! The impedance of a blocked voice coil beyond its dc resistance.

use super::check::within;
use crate::model::error::ModelError;
use crate::units::{Inductance, Resistance};
use num_complex::Complex64;
use std::f64::consts::FRAC_PI_2;

/// A model of the blocked coil's impedance Zvc(ω) beyond Re.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum CoilImpedance {
    /// No inductance.
    #[default]
    None,
    /// A plain inductance: jωLe.
    L {
        /// Inductance Le.
        le: Inductance,
    },
    /// An inductance in series with a second one that a resistance bridges: jωLe + (jωL2 ∥ R2).
    Lr2 {
        /// Inductance Le.
        le: Inductance,
        /// Second inductance L2.
        l2: Inductance,
        /// Resistance R2 across L2.
        r2: Resistance,
    },
    /// A fractional power: k·(jω)ⁿ. Leach, JAES 50 (2002) 442; n = ½ is Vanderkooy, JAES 37 (1989) 119.
    Power {
        /// Factor k in Ω·sⁿ.
        k: f64,
        /// Exponent n, 0.5 to 1.
        n: f64,
    },
    /// Semi-inductance: jωLeb + (jωLe ∥ Ke√(jω) ∥ Rss). Thorborg & Futtrup, JAES 59 (2011) 612, topology from memory.
    Semi {
        /// Inductance Leb outside the parallel part.
        leb: Inductance,
        /// Inductance Le in the parallel part.
        le: Inductance,
        /// Semi-inductance Ke in Ω·s^½.
        ke: f64,
        /// Shunt resistance Rss; `None` is an open branch.
        rss: Option<Resistance>,
    },
}

/// Largest inductance accepted, H.
const MAX_HENRIES: f64 = 10.0;
/// Largest resistance accepted, Ω.
const MAX_OHMS: f64 = 1e6;

impl CoilImpedance {
    /// The same coil with its impedance multiplied by `factor` at every frequency.
    ///
    /// Coils on one former share their flux, so nc of them in series are one coil's impedance times nc².
    #[must_use]
    pub fn scaled(self, factor: f64) -> Self {
        match self {
            Self::None => Self::None,
            Self::L { le } => Self::L { le: le * factor },
            Self::Lr2 { le, l2, r2 } => Self::Lr2 { le: le * factor, l2: l2 * factor, r2: r2 * factor },
            Self::Power { k, n } => Self::Power { k: k * factor, n },
            Self::Semi { leb, le, ke, rss } => Self::Semi {
                leb: leb * factor,
                le: le * factor,
                ke: ke * factor,
                rss: rss.map(|r| r * factor),
            },
        }
    }

    /// Zvc in Ω and its derivative by ω in Ω·s, at the angular frequency `omega` in rad/s, above zero.
    #[must_use]
    pub fn at(&self, omega: f64) -> (Complex64, Complex64) {
        let j = Complex64::i();
        match *self {
            Self::None => (Complex64::ZERO, Complex64::ZERO),
            Self::L { le } => (j * omega * le.henries(), j * le.henries()),
            Self::Lr2 { le, l2, r2 } => {
                let admittance = 1.0 / r2.ohms() - j / (omega * l2.henries());
                let slope = j / (omega * omega * l2.henries());
                let (z, dz) = inverted(admittance, slope);
                (j * omega * le.henries() + z, j * le.henries() + dz)
            }
            Self::Power { k, n } => {
                let z = Complex64::from_polar(k * omega.powf(n), n * FRAC_PI_2);
                (z, z * (n / omega))
            }
            Self::Semi { leb, le, ke, rss } => {
                // 1/(Ke√(jω)) falls with √ω, so its derivative by ω is −½/ω of itself.
                let semi = Complex64::from_polar(1.0 / (ke * omega.sqrt()), -0.5 * FRAC_PI_2);
                let inductor = -j / (omega * le.henries());
                let shunt = rss.map_or(0.0, |r| 1.0 / r.ohms());
                let (z, dz) = inverted(semi + inductor + shunt, -semi * (0.5 / omega) - inductor / omega);
                (j * omega * leb.henries() + z, j * leb.henries() + dz)
            }
        }
    }

    /// Checks every parameter.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] with the parameter and its range.
    pub fn check(&self) -> Result<(), ModelError> {
        let series = |what, l: Inductance| within(what, l.henries(), 0.0, MAX_HENRIES);
        let shunt = |what, l: Inductance| within(what, l.henries(), 1e-9, MAX_HENRIES);
        match *self {
            Self::None => {}
            Self::L { le } => {
                series("Le in H", le)?;
            }
            Self::Lr2 { le, l2, r2 } => {
                series("Le in H", le)?;
                shunt("L2 in H", l2)?;
                within("R2 in Ω", r2.ohms(), 1e-3, MAX_OHMS)?;
            }
            Self::Power { k, n } => {
                within("coil factor k in Ω·sⁿ", k, 0.0, 1e3)?;
                within("coil exponent n", n, 0.5, 1.0)?;
            }
            Self::Semi { leb, le, ke, rss } => {
                series("Leb in H", leb)?;
                shunt("Le in H", le)?;
                within("Ke in Ω·s^½", ke, 1e-6, 1e3)?;
                if let Some(r) = rss {
                    within("Rss in Ω", r.ohms(), 1e-3, MAX_OHMS)?;
                }
            }
        }
        Ok(())
    }
}

/// 1/y and its derivative, from y and dy.
fn inverted(y: Complex64, dy: Complex64) -> (Complex64, Complex64) {
    let z = y.inv();
    (z, -z * z * dy)
}
