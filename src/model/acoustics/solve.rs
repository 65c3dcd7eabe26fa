//! Solves a network at each frequency.
//!
//! The unknowns are the current i and the velocity u of one driver, the pressure of each chamber and the flow of each
//! passive radiator group. Pressures are multiplied and flows divided by the cone area Sd, so that all acoustic
//! elements stand in mechanical units beside the driver's and the rows of the matrix are of like size. The derivative
//! of the solution by ω comes from the same factorisation, dx/dω = −A⁻¹·(dA/dω)·x, and gives the group delay.

use super::check::within;
use super::network::{MAX_CHAMBERS, MAX_DUCTS, MAX_RADIATORS, Network, Place};
use super::response::Response;
use crate::model::error::ModelError;
use crate::model::numeric::DenseSystem;
use crate::units::{Length, Resistance, Voltage};
use num_complex::Complex64;
use std::f64::consts::{SQRT_2, TAU};

/// Most unknowns a network can have.
const MAX_UNKNOWNS: usize = 2 + MAX_CHAMBERS + MAX_RADIATORS;
/// Index of the driver current.
const CURRENT: usize = 0;
/// Index of the cone velocity.
const VELOCITY: usize = 1;
/// Index of the pressure of chamber 0.
const PRESSURE: usize = 2;
/// Reference pressure of sound levels, Pa rms.
pub(super) const REFERENCE_PA: f64 = 20e-6;
/// Pressures below this are silence; it keeps levels finite.
pub(super) const SILENCE_PA: f64 = 1e-35;

/// An element's value and its derivative by ω.
type Slope = (Complex64, Complex64);
const NOTHING: Slope = (Complex64::ZERO, Complex64::ZERO);

/// What drives a network and where it is heard.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drive {
    /// Voltage of the ideal source, rms.
    pub voltage: Voltage,
    /// Resistance between the source and the terminals: amplifier output and cable, out and back.
    pub source_resistance: Resistance,
    /// Distance of the listener in half space.
    pub distance: Length,
}

impl From<Voltage> for Drive {
    /// A source without resistance, heard at 1 m.
    fn from(voltage: Voltage) -> Self {
        Self { voltage, source_resistance: Resistance::from_ohms(0.0), distance: Length::from_metres(1.0) }
    }
}

impl Drive {
    /// Checks the three values.
    ///
    /// # Errors
    /// [`ModelError::OutOfRange`].
    pub fn check(&self) -> Result<(), ModelError> {
        within("drive voltage in V", self.voltage.volts(), 0.0, 1e4)?;
        within("source resistance in Ω", self.source_resistance.ohms(), 0.0, 1e4)?;
        within("distance in m", self.distance.metres(), 1e-2, 1e4)?;
        Ok(())
    }
}

/// The response of a network to a drive; `frequencies_hz` in any order, one result per frequency.
///
/// # Errors
/// [`ModelError::OutOfRange`] for an element, the drive or a frequency (0.01 Hz to 1 MHz) outside its range, or for a
/// result that is not a finite number; [`ModelError::Impossible`] if the network has no single solution.
///
/// # Examples
/// ```
/// use kerf_and_coil::model::acoustics::*;
/// use kerf_and_coil::units::*;
///
/// let driver = Driver {
///     re: Resistance::from_ohms(3.3),
///     coil: CoilImpedance::None,
///     bl: ForceFactor::from_tesla_metres(12.5),
///     mms: Mass::from_grams(125.0),
///     cms: Compliance::from_millimetres_per_newton(0.25),
///     rms_ns_m: 3.4,
///     sd: Area::from_square_centimetres(330.0),
/// };
/// let rear = SealedChamber { volume: Volume::from_litres(25.0), losses: Losses::default() };
/// let network = Enclosure::Closed { rear }.network(Load::single(driver), Air::standard())?;
/// let response = respond(&network, Voltage::from_volts(2.83), &[50.0])?;
/// assert_eq!(response.spl_db.len(), 1);
/// # Ok::<(), kerf_and_coil::model::error::ModelError>(())
/// ```
pub fn respond(
    network: &Network,
    drive: impl Into<Drive>,
    frequencies_hz: &[f64],
) -> Result<Response, ModelError> {
    let drive = drive.into();
    drive.check()?;
    network.check()?;
    if let Some(tree) = &network.unequal {
        return super::unequal::respond_unequally(network, tree, &drive, frequencies_hz);
    }
    let mut response =
        Response::with_room(frequencies_hz.len(), network.ducts.len(), network.radiators.len());
    // The usual boxes have three or four unknowns; room for just those is a third of the time of room for all.
    let record = match PRESSURE + network.chambers.len() + network.radiators.len() {
        0..=3 => record_point::<3>,
        4 => record_point::<4>,
        _ => record_point::<MAX_UNKNOWNS>,
    };
    for &frequency in frequencies_hz {
        let frequency = within("frequency in Hz", frequency, 1e-2, 1e6)?;
        record(network, &drive, frequency, &mut response)?;
    }
    Ok(response)
}

/// Solves a network of at most `N` unknowns at one frequency and adds the result to the response.
fn record_point<const N: usize>(
    network: &Network,
    drive: &Drive,
    frequency: f64,
    response: &mut Response,
) -> Result<(), ModelError> {
    let elements = Elements::at(network, TAU * frequency);
    Point::<N>::solve(network, drive, &elements)?.record(network, drive, frequency, response)
}

/// |z|, without the care for extreme values that makes `norm` slow.
fn magnitude(z: Complex64) -> f64 {
    z.norm_sqr().sqrt()
}

/// The elements of a network at one ω, in mechanical units.
struct Elements {
    /// Blocked coil impedance with Re, Ω.
    coil: Slope,
    /// Mechanical impedance of one driver, N·s/m.
    mechanical: Slope,
    chambers: [Slope; MAX_CHAMBERS],
    leaks: [f64; MAX_CHAMBERS],
    ducts: [Slope; MAX_DUCTS],
    radiators: [Slope; MAX_RADIATORS],
}

impl Elements {
    #[inline]
    fn at(network: &Network, omega: f64) -> Self {
        let driver = &network.load.driver;
        let sd2 = driver.sd.square_metres().powi(2);
        let (coil, coil_slope) = driver.coil.at(omega);
        let resonator = |mass: f64, compliance: f64, loss: f64| {
            let spring = 1.0 / (omega * compliance);
            (Complex64::new(loss, omega * mass - spring), Complex64::new(0.0, mass + spring / omega))
        };
        let mut elements = Self {
            coil: (coil + driver.re.ohms(), coil_slope),
            mechanical: resonator(driver.mms.kilograms(), driver.cms.metres_per_newton(), driver.rms_ns_m),
            chambers: [NOTHING; MAX_CHAMBERS],
            leaks: [0.0; MAX_CHAMBERS],
            ducts: [NOTHING; MAX_DUCTS],
            radiators: [NOTHING; MAX_RADIATORS],
        };
        let chambers = elements.chambers.iter_mut().zip(&mut elements.leaks);
        for ((slot, leak), chamber) in chambers.zip(&network.chambers) {
            // Y = jωC/(1 + jωCR), dY/dω = jC/(1 + jωCR)²
            let c = chamber.compliance_m3_pa / sd2;
            let lag =
                Complex64::new(1.0, omega * chamber.compliance_m3_pa * chamber.absorption_pa_s_m3).inv();
            let slope = Complex64::new(0.0, c) * lag;
            *slot = (slope * omega, slope * lag);
            *leak = chamber.leakage_m3_pa_s / sd2;
        }
        for (slot, duct) in elements.ducts.iter_mut().zip(&network.ducts) {
            // Y = 1/(R + jωM), dY/dω = −jM·Y²
            let mass = duct.mass_kg_m4 * sd2;
            let y = Complex64::new(duct.resistance_pa_s_m3 * sd2, omega * mass).inv();
            *slot = (y, y * y * Complex64::new(0.0, -mass));
        }
        for (slot, radiator) in elements.radiators.iter_mut().zip(&network.radiators) {
            *slot = resonator(
                radiator.mass_kg_m4 * sd2,
                radiator.compliance_m3_pa / sd2,
                radiator.resistance_pa_s_m3 * sd2,
            );
        }
        elements
    }
}

/// The solution at one frequency for 1 V across the coils of each driver and the source's share.
struct Point<'a, const N: usize> {
    elements: &'a Elements,
    solution: [Complex64; N],
    slope: [Complex64; N],
}

impl<'a, const N: usize> Point<'a, N> {
    fn solve(network: &Network, drive: &Drive, elements: &'a Elements) -> Result<Self, ModelError> {
        let wiring = &network.load.wiring;
        let source = drive.source_resistance.ohms() * wiring.parallel / wiring.series_factor;
        let matrix = assemble::<N>(network, elements, source).factorised().ok_or(ModelError::Impossible {
            what: "The enclosure has no single response at one of the frequencies",
        })?;
        let mut right = [Complex64::ZERO; N];
        right[CURRENT] = Complex64::ONE;
        let solution = matrix.solve(&right);
        let slope = matrix.solve(&minus_slope_times(network, elements, &solution));
        Ok(Self { elements, solution, slope })
    }

    /// Flow into the outside air over Sd, and its derivative by ω.
    fn outside(&self, network: &Network) -> Slope {
        let cones = network.load.wiring.drivers as f64;
        let (x, dx) = (&self.solution, &self.slope);
        let (mut q, mut dq) = NOTHING;
        if network.front == Place::Outside {
            q += x[VELOCITY] * cones;
            dq += dx[VELOCITY] * cones;
        }
        if network.back == Place::Outside {
            q -= x[VELOCITY] * cones;
            dq -= dx[VELOCITY] * cones;
        }
        for (k, leak) in self.elements.leaks.iter().enumerate().take(network.chambers.len()) {
            q += x[PRESSURE + k] * leak;
            dq += dx[PRESSURE + k] * leak;
        }
        for (duct, (y, dy)) in network.ducts.iter().zip(&self.elements.ducts) {
            if duct.to == Place::Outside {
                let from = PRESSURE + duct.from;
                q += y * x[from];
                dq += y * dx[from] + dy * x[from];
            }
        }
        let flows = PRESSURE + network.chambers.len();
        for (m, radiator) in network.radiators.iter().enumerate() {
            if radiator.to == Place::Outside {
                q += x[flows + m];
                dq += dx[flows + m];
            }
        }
        (q, dq)
    }

    /// Adds this point to the response.
    fn record(
        &self,
        network: &Network,
        drive: &Drive,
        frequency: f64,
        response: &mut Response,
    ) -> Result<(), ModelError> {
        let omega = TAU * frequency;
        let load = &network.load;
        let sd = load.driver.sd.square_metres();
        let volts = drive.voltage.volts() / load.wiring.series_factor;
        let x = &self.solution;

        let (flow, flow_slope) = self.outside(network);
        let pressure_per_flow =
            network.air.density_kg_m3() * frequency / drive.distance.metres() * sd * volts;
        let level = 20.0 * ((magnitude(flow) * pressure_per_flow).max(SILENCE_PA) / REFERENCE_PA).log10();
        let delay = if flow.norm_sqr() > 0.0 { -(flow_slope / flow).im } else { 0.0 };
        // p = jρfQ/r, so the pressure leads the flow by a quarter period.
        let phase = (Complex64::i() * flow).arg().to_degrees();
        let driver_impedance =
            self.elements.coil.0 + x[VELOCITY] / x[CURRENT] * load.driver.bl.tesla_metres();
        let impedance = driver_impedance * (load.wiring.series_factor / load.wiring.parallel);
        let peak_travel = SQRT_2 * volts / omega;
        let excursion = magnitude(x[VELOCITY]) * peak_travel;
        let cone_flow = x[VELOCITY] * (sd * volts * load.wiring.drivers as f64);
        let mut sum = level + delay + phase + excursion + impedance.l1_norm() + cone_flow.l1_norm();

        for ((duct, (y, _)), out) in network.ducts.iter().zip(&self.elements.ducts).zip(&mut response.ducts) {
            let there = match duct.to {
                Place::Chamber(k) => x[PRESSURE + k],
                _ => Complex64::ZERO,
            };
            let flow = y * (x[PRESSURE + duct.from] - there) * (sd * volts);
            let velocity = SQRT_2 * magnitude(flow) / duct.area.square_metres();
            sum += velocity;
            out.flow_m3_s.push(flow);
            out.velocity_peak_m_s.push(velocity);
        }
        let flows = PRESSURE + network.chambers.len();
        for (m, (radiator, out)) in network.radiators.iter().zip(&mut response.radiators).enumerate() {
            let flow = x[flows + m] * (sd * volts);
            let travel = SQRT_2 * magnitude(flow) / (omega * radiator.area.square_metres());
            sum += travel;
            out.flow_m3_s.push(flow);
            out.excursion_peak_m.push(travel);
        }
        // One test for all: a sum that is finite has no summand that is not.
        super::check::finite("a result of the response", sum)?;
        response.frequencies_hz.push(frequency);
        response.spl_db.push(level);
        response.phase_deg.push(phase);
        response.group_delay_s.push(delay);
        response.excursion_peak_m.push(excursion);
        response.impedance_ohm.push(impedance);
        response.outside_flow_m3_s.push(flow * (sd * volts));
        response.cone_flow_m3_s.push(cone_flow);
        Ok(())
    }
}

/// The matrix A of the network, with the source resistance one driver sees.
fn assemble<const N: usize>(network: &Network, elements: &Elements, source: f64) -> DenseSystem<N> {
    let chambers = network.chambers.len();
    let flows = PRESSURE + chambers;
    let mut a = DenseSystem::new();
    for unused in flows + network.radiators.len()..N {
        a.add(unused, unused, Complex64::ONE);
    }
    let bl = Complex64::from(network.load.driver.bl.tesla_metres());
    let cones = Complex64::from(network.load.wiring.drivers as f64);
    a.add(CURRENT, CURRENT, elements.coil.0 + source);
    a.add(CURRENT, VELOCITY, bl);
    a.add(VELOCITY, CURRENT, bl);
    a.add(VELOCITY, VELOCITY, -elements.mechanical.0);
    if let Place::Chamber(k) = network.front {
        a.add(VELOCITY, PRESSURE + k, -Complex64::ONE);
        a.add(PRESSURE + k, VELOCITY, -cones);
    }
    if let Place::Chamber(k) = network.back {
        a.add(VELOCITY, PRESSURE + k, Complex64::ONE);
        a.add(PRESSURE + k, VELOCITY, cones);
    }
    for (k, ((y, _), leak)) in elements.chambers.iter().zip(&elements.leaks).enumerate().take(chambers) {
        a.add(PRESSURE + k, PRESSURE + k, y + leak);
    }
    for (duct, (y, _)) in network.ducts.iter().zip(&elements.ducts) {
        let from = PRESSURE + duct.from;
        a.add(from, from, *y);
        if let Place::Chamber(k) = duct.to {
            a.add(from, PRESSURE + k, -y);
            a.add(PRESSURE + k, from, -y);
            a.add(PRESSURE + k, PRESSURE + k, *y);
        }
    }
    for (m, (radiator, (z, _))) in network.radiators.iter().zip(&elements.radiators).enumerate() {
        let (flow, from) = (flows + m, PRESSURE + radiator.from);
        a.add(from, flow, Complex64::ONE);
        a.add(flow, from, -Complex64::ONE);
        a.add(flow, flow, *z);
        if let Place::Chamber(k) = radiator.to {
            a.add(PRESSURE + k, flow, -Complex64::ONE);
            a.add(flow, PRESSURE + k, Complex64::ONE);
        }
    }
    a
}

/// −(dA/dω)·x.
fn minus_slope_times<const N: usize>(
    network: &Network,
    elements: &Elements,
    x: &[Complex64; N],
) -> [Complex64; N] {
    let chambers = network.chambers.len();
    let flows = PRESSURE + chambers;
    let mut b = [Complex64::ZERO; N];
    b[CURRENT] = -elements.coil.1 * x[CURRENT];
    b[VELOCITY] = elements.mechanical.1 * x[VELOCITY];
    for (k, (_, dy)) in elements.chambers.iter().enumerate().take(chambers) {
        b[PRESSURE + k] -= dy * x[PRESSURE + k];
    }
    for (duct, (_, dy)) in network.ducts.iter().zip(&elements.ducts) {
        let from = PRESSURE + duct.from;
        let mut change = dy * x[from];
        if let Place::Chamber(k) = duct.to {
            change -= dy * x[PRESSURE + k];
            b[PRESSURE + k] += change;
        }
        b[from] -= change;
    }
    for (m, (_, (_, dz))) in network.radiators.iter().zip(&elements.radiators).enumerate() {
        b[flows + m] -= dz * x[flows + m];
    }
    b
}
