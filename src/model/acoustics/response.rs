//! What a network does over a range of frequencies.

use num_complex::Complex64;

/// Curves of one network at one drive; every list has one entry for each of `frequencies_hz`, and all are finite.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Response {
    /// The frequencies asked for.
    pub frequencies_hz: Vec<f64>,
    /// Level in half space, dB re 20 µPa rms; at a perfect silence −600 dB or less, never minus infinity.
    pub spl_db: Vec<f64>,
    /// Phase of that pressure against the source voltage without the travel time, in (−180°, 180°].
    pub phase_deg: Vec<f64>,
    /// Group delay −dφ/dω of that pressure without the travel time, s.
    pub group_delay_s: Vec<f64>,
    /// Peak excursion of one cone, m.
    pub excursion_peak_m: Vec<f64>,
    /// Impedance at the common terminals, Ω.
    pub impedance_ohm: Vec<Complex64>,
    /// Everything that flows into the outside air, m³/s rms.
    pub outside_flow_m3_s: Vec<Complex64>,
    /// Air all cones together move towards their front, m³/s rms.
    pub cone_flow_m3_s: Vec<Complex64>,
    /// Each duct group of the network, in its order.
    pub ducts: Vec<DuctResponse>,
    /// Each passive radiator group of the network, in its order.
    pub radiators: Vec<RadiatorResponse>,
}

/// Curves of one duct group.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct DuctResponse {
    /// Peak mean air velocity in each opening, m/s.
    pub velocity_peak_m_s: Vec<f64>,
    /// Flow of all openings together out of the chamber they start in, m³/s rms.
    pub flow_m3_s: Vec<Complex64>,
}

/// Curves of one passive radiator group.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RadiatorResponse {
    /// Peak excursion of each radiator, m.
    pub excursion_peak_m: Vec<f64>,
    /// Air all of them together move out of the chamber they start in, m³/s rms.
    pub flow_m3_s: Vec<Complex64>,
}

impl Response {
    /// An empty response with room for `points` frequencies.
    pub(super) fn with_room(points: usize, ducts: usize, radiators: usize) -> Self {
        let numbers = || Vec::with_capacity(points);
        let phasors = || Vec::with_capacity(points);
        Self {
            frequencies_hz: numbers(),
            spl_db: numbers(),
            phase_deg: numbers(),
            group_delay_s: numbers(),
            excursion_peak_m: numbers(),
            impedance_ohm: phasors(),
            outside_flow_m3_s: phasors(),
            cone_flow_m3_s: phasors(),
            ducts: (0..ducts)
                .map(|_| DuctResponse { velocity_peak_m_s: numbers(), flow_m3_s: phasors() })
                .collect(),
            radiators: (0..radiators)
                .map(|_| RadiatorResponse { excursion_peak_m: numbers(), flow_m3_s: phasors() })
                .collect(),
        }
    }

    /// |Z| at the terminals for each frequency, Ω.
    #[must_use]
    pub fn impedance_magnitude_ohm(&self) -> Vec<f64> {
        self.impedance_ohm.iter().map(|z| z.norm()).collect()
    }

    /// Phase of Z at the terminals for each frequency, degrees.
    #[must_use]
    pub fn impedance_phase_deg(&self) -> Vec<f64> {
        self.impedance_ohm.iter().map(|z| z.arg().to_degrees()).collect()
    }
}
