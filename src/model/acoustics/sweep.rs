//! The network's quick solution where many boxes stand behind the same drivers: a search, or a spread of variants.
//!
//! What does not change from box to box, such as coil, cone and source, is worked out once for each frequency; a
//! chamber that leads to no other one is then a single admittance, and the network falls to a quotient. It is the same
//! network as [`super::respond`] solves: the tests hold both together to 1e-9.

use super::check::within;
use super::network::Network;
use super::response::{DuctResponse, RadiatorResponse, Response};
use super::solve::{Drive, REFERENCE_PA, SILENCE_PA};
use super::unequal::{Alike, Unequal};
use super::{Air, Load, Wiring};
use crate::model::electrical::wiring::Tree;
use crate::model::error::ModelError;
use crate::units::Resistance;
use num_complex::Complex64;
use sides::{Around, Pitch, inverse};
use std::f64::consts::{SQRT_2, TAU};

mod sides;

pub(super) use sides::Sides;

/// What of the drivers and the source counts at one frequency.
#[derive(Clone, Copy)]
struct Base {
    hertz: f64,
    omega: f64,
    /// 1/ω, s.
    period: f64,
    /// Blocked coil with Re and the source's share, Ω, and its derivative by ω.
    coil: Complex64,
    coil_slope: Complex64,
    /// Mechanical impedance of one driver, N·s/m, and its derivative.
    cone: Complex64,
    cone_slope: Complex64,
}

/// Drivers and source, ready for any box, over a list of frequencies.
pub(super) struct Sweep {
    bases: Vec<Base>,
    load: Load,
    drive: Drive,
    bl: f64,
    bl2: f64,
    sd: f64,
    cones: f64,
    /// N·Sd², which turns a side's acoustic impedance into one driver's mechanical one.
    area2: f64,
    /// Source resistance as one driver sees it.
    source: f64,
    density: f64,
    /// Where the coils don't share equally: then every value is for 1 V of the source itself.
    unequal: Option<Unequal>,
}

/// A network at one frequency, for 1 V of the source at each driver.
#[derive(Clone, Copy)]
pub(super) struct At {
    pub(super) hertz: f64,
    pub(super) omega: f64,
    /// 1/ω, s.
    pub(super) period: f64,
    /// Velocity of a cone, of the one that moves most, m/s.
    pub(super) velocity: Complex64,
    /// Current of one driver; of the coil with most of it where they don't share equally, A.
    pub(super) current: Complex64,
    /// Current of the amplifier over the number of parallel paths; all of it where the coils don't share equally, A.
    pub(super) line: Complex64,
    /// Flow into the outside air, m³/s.
    pub(super) outside: Complex64,
    /// Group delay of the pressure, s.
    pub(super) delay: f64,
    /// Flow of the back's duct, of the front's, and of the back's and the front's radiators.
    pub(super) openings: [Complex64; 4],
}

impl Sweep {
    /// Prepares drivers and source.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] for the load, the drive or a frequency (0.01 Hz to 1 MHz).
    pub(super) fn new(
        load: &Load,
        air: &Air,
        drive: Drive,
        frequencies_hz: &[f64],
    ) -> Result<Self, ModelError> {
        load.check()?;
        drive.check()?;
        let driver = &load.driver;
        let wiring = &load.wiring;
        let source = drive.source_resistance.ohms() * wiring.parallel / wiring.series_factor;
        let (mass, compliance) = (driver.mms.kilograms(), driver.cms.metres_per_newton());
        let mut bases = Vec::with_capacity(frequencies_hz.len());
        for &hertz in frequencies_hz {
            let omega = TAU * within("frequency in Hz", hertz, 1e-2, 1e6)?;
            let (coil, coil_slope) = driver.coil.at(omega);
            let spring = 1.0 / (omega * compliance);
            bases.push(Base {
                hertz,
                omega,
                period: 1.0 / omega,
                coil: coil + driver.re.ohms() + source,
                coil_slope,
                cone: Complex64::new(driver.rms_ns_m, omega * mass - spring),
                cone_slope: Complex64::new(0.0, mass + spring / omega),
            });
        }
        let (bl, sd) = (driver.bl.tesla_metres(), driver.sd.square_metres());
        let cones = wiring.drivers as f64;
        Ok(Self {
            bases,
            load: *load,
            drive,
            bl,
            bl2: bl * bl,
            sd,
            cones,
            area2: cones * sd * sd,
            source,
            density: air.density_kg_m3(),
            unequal: None,
        })
    }

    /// Prepares drivers with a wiring whose coils don't share equally, where there is one.
    ///
    /// # Errors
    /// Those of [`Sweep::new`], and of [`Unequal::of`].
    pub(super) fn shared(
        load: &Load,
        tree: Option<&Tree>,
        air: &Air,
        drive: Drive,
        frequencies_hz: &[f64],
    ) -> Result<Self, ModelError> {
        let Some(tree) = tree else { return Self::new(load, air, drive, frequencies_hz) };
        // Every driver alike and in parallel behind an ideal source; the shares make of it what the wiring does.
        let alike = Load { wiring: Wiring::of_drivers(1, load.wiring.drivers), ..*load };
        let ideal = Drive { source_resistance: Resistance::from_ohms(0.0), ..drive };
        let unequal = Some(Unequal::of(load, tree, &drive)?);
        Ok(Self { unequal, ..Self::new(&alike, air, ideal, frequencies_hz)? })
    }

    /// Volts at each driver and its share of the source for volts of the source.
    pub(super) fn driver_volts(&self, volts: f64) -> f64 {
        volts / self.load.wiring.series_factor
    }

    /// Pressure at the listener for a flow of 1 m³/s at 1 Hz, Pa rms.
    pub(super) fn pressure_factor(&self) -> f64 {
        self.density / self.drive.distance.metres()
    }

    /// A box at every frequency, one after the other.
    #[inline]
    pub(super) fn each<'a>(&'a self, sides: &'a Sides) -> impl Iterator<Item = At> + 'a {
        self.bases.iter().map(move |base| self.at(base, sides))
    }

    #[inline]
    fn at(&self, base: &Base, sides: &Sides) -> At {
        let around = Around::of(sides, Pitch { omega: base.omega, period: base.period });
        let cone = base.cone + around.impedance * self.area2;
        let cone_slope = base.cone_slope + around.impedance_slope * self.area2;
        let determinant = base.coil * cone + self.bl2;
        let determinant_slope = base.coil_slope * cone + base.coil * cone_slope;
        let inverse_determinant = inverse(determinant);
        let velocity = inverse_determinant * self.bl;
        let flow = velocity * (self.sd * self.cones);
        // p ∝ share/determinant, and the delay is minus the imaginary part of the logarithm's derivative.
        let fall = (determinant_slope * inverse_determinant).im;
        let silent = around.share.norm_sqr() <= 0.0;
        let rise = if silent { fall } else { (around.share_slope * inverse(around.share)).im };
        let current = cone * inverse_determinant;
        let at = At {
            hertz: base.hertz,
            omega: base.omega,
            period: base.period,
            velocity,
            current,
            line: current,
            outside: flow * around.share,
            delay: fall - rise,
            openings: around.openings.map(|opening| opening * flow),
        };
        match &self.unequal {
            None => at,
            Some(unequal) => self.unequally(unequal, at, base, (cone, cone_slope)),
        }
    }

    /// What the coils' shares make of drivers all alike; `cone` is one's mechanical impedance in this box.
    #[inline(never)]
    fn unequally(
        &self,
        unequal: &Unequal,
        at: At,
        base: &Base,
        (cone, cone_slope): (Complex64, Complex64),
    ) -> At {
        let motion = inverse(cone) * self.bl2;
        let alike = Alike {
            velocity: at.velocity,
            whole: base.coil + motion,
            whole_slope: base.coil_slope - motion * cone_slope * inverse(cone),
            coil: base.coil - self.load.driver.re.ohms(),
            coil_slope: base.coil_slope,
            cone: base.cone,
            cone_slope: base.cone_slope,
        };
        // Without a single response nothing of it can be played: the candidate is left out for not being finite.
        let Some(shares) = unequal.shares(&alike) else {
            return At { outside: Complex64::from(f64::NAN), ..at };
        };
        At {
            velocity: shares.furthest,
            current: shares.hardest,
            line: shares.line,
            outside: at.outside * shares.factor,
            delay: at.delay - shares.turned,
            openings: at.openings.map(|opening| opening * shares.factor),
            ..at
        }
    }

    /// The response of a box, as [`super::respond`] gives it.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`] if a result is not a finite number.
    pub(super) fn respond(&self, sides: &Sides) -> Result<Response, ModelError> {
        let volts = self.driver_volts(self.drive.voltage.volts());
        let wiring = &self.load.wiring;
        let areas = sides.areas();
        let mut response = Response::with_room(
            self.bases.len(),
            areas.iter().take(2).flatten().count(),
            areas.iter().skip(2).flatten().count(),
        );
        for at in self.each(sides) {
            let pressure = at.outside.norm_sqr().sqrt() * self.pressure_factor() * at.hertz * volts;
            let level = 20.0 * (pressure.max(SILENCE_PA) / REFERENCE_PA).log10();
            let phase = (Complex64::i() * at.outside).arg().to_degrees();
            let excursion = SQRT_2 * volts * at.velocity.norm_sqr().sqrt() / at.omega;
            // Zd = V/i, less the source's resistance in series with it.
            let driver = inverse(at.current) - self.source;
            let impedance = driver * (wiring.series_factor / wiring.parallel);
            let sum = level + phase + excursion + impedance.l1_norm() + at.delay;
            super::check::finite("a result of the response", sum)?;
            response.frequencies_hz.push(at.hertz);
            response.spl_db.push(level);
            response.phase_deg.push(phase);
            response.group_delay_s.push(at.delay);
            response.excursion_peak_m.push(excursion);
            response.impedance_ohm.push(impedance);
            response.outside_flow_m3_s.push(at.outside * volts);
            response.cone_flow_m3_s.push(at.velocity * (self.sd * self.cones * volts));
            let flows = at.openings.iter().zip(&areas).map(|(flow, area)| (*flow * volts, *area));
            let mut ducts = response.ducts.iter_mut();
            let mut radiators = response.radiators.iter_mut();
            for (index, (flow, area)) in flows.enumerate() {
                let Some(area) = area else { continue };
                if index < 2 {
                    ducts.next().into_iter().for_each(|duct| duct.add(flow, area));
                } else {
                    radiators.next().into_iter().for_each(|radiator| radiator.add(flow, area, at.omega));
                }
            }
        }
        Ok(response)
    }
}

/// The response of a network by the quick solution, as [`super::respond`] gives it; `None` where chambers open in more
/// than one group or lead into each other by more than one duct from back to front, or the coils don't share equally,
/// which only the general solution serves.
///
/// # Errors
/// Those of [`super::respond`].
pub fn respond_quickly(
    network: &Network,
    drive: impl Into<Drive>,
    frequencies_hz: &[f64],
) -> Result<Option<Response>, ModelError> {
    network.check()?;
    if network.unequal.is_some() {
        return Ok(None);
    }
    let Some(sides) = Sides::of(network) else { return Ok(None) };
    Sweep::new(&network.load, &network.air, drive.into(), frequencies_hz)?.respond(&sides).map(Some)
}

/// The response of any network: by the quick solution where that serves it, otherwise by the general one.
///
/// # Errors
/// Those of [`super::respond`].
pub fn respond_either_way(
    network: &Network,
    drive: impl Into<Drive>,
    frequencies_hz: &[f64],
) -> Result<Response, ModelError> {
    let drive = drive.into();
    match respond_quickly(network, drive, frequencies_hz)? {
        Some(response) => Ok(response),
        None => super::respond(network, drive, frequencies_hz),
    }
}

impl DuctResponse {
    fn add(&mut self, flow: Complex64, area: f64) {
        self.velocity_peak_m_s.push(SQRT_2 * flow.norm_sqr().sqrt() / area);
        self.flow_m3_s.push(flow);
    }
}

impl RadiatorResponse {
    fn add(&mut self, flow: Complex64, area: f64, omega: f64) {
        self.excursion_peak_m.push(SQRT_2 * flow.norm_sqr().sqrt() / (omega * area));
        self.flow_m3_s.push(flow);
    }
}
