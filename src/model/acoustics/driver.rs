//! One drive unit.

use super::check::within;
use super::{Air, CoilImpedance};
use crate::model::error::ModelError;
use crate::units::{Area, Compliance, ForceFactor, Frequency, Mass, Resistance, Volume};
use std::f64::consts::TAU;

/// One drive unit with all its coils in series.
///
/// A driver with nc equal coils on one former has nc times the resistance and force factor of one coil and nc² times
/// its further impedance here; how the coils are really connected is told by [`super::Wiring`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Driver {
    /// Dc resistance Re of all coils in series.
    pub re: Resistance,
    /// The blocked coil's impedance beyond Re, all coils in series.
    pub coil: CoilImpedance,
    /// Force factor Bl, all coils in series.
    pub bl: ForceFactor,
    /// Moving mass Mms including the air load; used unchanged in every box.
    pub mms: Mass,
    /// Suspension compliance Cms.
    pub cms: Compliance,
    /// Mechanical loss Rms in N·s/m; zero is lossless.
    pub rms_ns_m: f64,
    /// Effective piston area Sd.
    pub sd: Area,
}

/// The small-signal set of a driver with all its coils driven.
///
/// fs, Qes, Qms, Qts and Vas are the same for coils in series and in parallel; only `re` depends on the connection.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SmallSignal {
    /// Free-air resonance fs.
    pub fs: Frequency,
    /// Electrical Q at fs.
    pub qes: f64,
    /// Mechanical Q at fs; infinite without mechanical loss.
    pub qms: f64,
    /// Volume of air as stiff as the suspension, Vas; depends on the air.
    pub vas: Volume,
    /// Effective piston area Sd.
    pub sd: Area,
    /// Dc resistance Re of all coils in series.
    pub re: Resistance,
}

impl SmallSignal {
    /// Total Q at fs with a source of no resistance: Qes·Qms/(Qes + Qms).
    #[must_use]
    pub fn qts(&self) -> f64 {
        // Written so that a driver without mechanical loss, whose Qms is infinite, has Qes.
        1.0 / (1.0 / self.qes + 1.0 / self.qms)
    }

    /// Reference efficiency into half space: the acoustic power per watt into Re in the mass-controlled band.
    ///
    /// # Source
    /// Small, JAES 20 (1972) 383: η0 = (4π²/c³)·fs³·Vas/Qes.
    #[must_use]
    pub fn reference_efficiency(&self, air: &Air) -> f64 {
        TAU * TAU / air.speed_of_sound_m_s().powi(3) * self.fs.hertz().powi(3) * self.vas.cubic_metres()
            / self.qes
    }

    /// Level at 1 m in half space for 1 W into Re (not into the nominal impedance), dB re 20 µPa.
    #[must_use]
    pub fn sensitivity_1w_db(&self, air: &Air) -> f64 {
        let rho_c = air.density_kg_m3() * air.speed_of_sound_m_s();
        10.0 * (self.reference_efficiency(air) * rho_c / (TAU * 20e-6 * 20e-6)).log10()
    }
}

impl Driver {
    /// The driver with a given small-signal set and coil.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] if a value, or one that follows from them, is outside its range.
    pub fn from_small_signal(set: &SmallSignal, coil: CoilImpedance, air: &Air) -> Result<Self, ModelError> {
        let omega_s = TAU * within("fs in Hz", set.fs.hertz(), 0.1, 1e5)?;
        let qes = within("Qes", set.qes, 1e-3, 1e3)?;
        let qms = within("Qms", set.qms, 1e-3, 1e4)?;
        let vas = within("Vas in m³", set.vas.cubic_metres(), 1e-9, 1e3)?;
        let sd = within("Sd in m²", set.sd.square_metres(), 1e-6, 100.0)?;
        let re = within("Re in Ω", set.re.ohms(), 1e-3, 1e6)?;
        let cms = vas / (air.bulk_modulus_pa() * sd * sd);
        let mms = 1.0 / (omega_s * omega_s * cms);
        let driver = Self {
            re: set.re,
            coil,
            bl: ForceFactor::from_tesla_metres((omega_s * mms * re / qes).sqrt()),
            mms: Mass::from_kilograms(mms),
            cms: Compliance::from_metres_per_newton(cms),
            rms_ns_m: omega_s * mms / qms,
            sd: set.sd,
        };
        driver.check()?;
        Ok(driver)
    }

    /// The small-signal set that follows from the physical parameters.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] if a parameter is outside its range.
    ///
    /// # Source
    /// Small, JAES 20 (1972) 383.
    pub fn small_signal(&self, air: &Air) -> Result<SmallSignal, ModelError> {
        self.check()?;
        let omega_s = self.resonance_rad_s();
        let mass_reactance = omega_s * self.mms.kilograms();
        Ok(SmallSignal {
            fs: Frequency::from_hertz(omega_s / TAU),
            qes: mass_reactance * self.re.ohms() / self.bl.tesla_metres().powi(2),
            qms: mass_reactance / self.rms_ns_m,
            vas: Volume::from_cubic_metres(self.suspension_volume_m3(air)),
            sd: self.sd,
            re: self.re,
        })
    }

    /// ωs = 1/√(Mms·Cms) in rad/s.
    pub(super) fn resonance_rad_s(&self) -> f64 {
        1.0 / (self.mms.kilograms() * self.cms.metres_per_newton()).sqrt()
    }

    /// Vas = ρc²·Sd²·Cms in m³.
    pub(super) fn suspension_volume_m3(&self, air: &Air) -> f64 {
        air.bulk_modulus_pa() * self.sd.square_metres().powi(2) * self.cms.metres_per_newton()
    }

    /// Checks every parameter.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] with the parameter and its range.
    pub fn check(&self) -> Result<(), ModelError> {
        within("Re in Ω", self.re.ohms(), 1e-3, 1e6)?;
        within("Bl in T·m", self.bl.tesla_metres(), 1e-3, 1e4)?;
        within("Mms in kg", self.mms.kilograms(), 1e-7, 1e3)?;
        within("Cms in m/N", self.cms.metres_per_newton(), 1e-9, 10.0)?;
        within("Rms in N·s/m", self.rms_ns_m, 0.0, 1e6)?;
        within("Sd in m²", self.sd.square_metres(), 1e-6, 100.0)?;
        self.coil.check()
    }
}
