//! The guided search on impedances by formula: peaks and dip are found within the step, and the dip tells the leak.
use crate::assert_near;
use kerf_and_coil::model::acoustics::CoilImpedance;
use kerf_and_coil::model::measurement::{Peaks, Proof, ProofDriver, Sought, Tone, prove, search};
use kerf_and_coil::units::{Frequency, Resistance, Volume};
use num_complex::Complex64;
use proptest::prelude::*;

/// A driver in a box by its small signal values, everything relative to the moving mass; losses of the box by QL.
#[derive(Clone, Copy)]
struct Rig {
    fs: f64,
    qms: f64,
    qes: f64,
    re: f64,
    alpha: f64,
    /// Tuning and QL; `None` is a closed box.
    port: Option<(f64, f64)>,
}

impl Rig {
    /// Small, JAES 20 (1972) 798 and 21 (1973) 363: the analogous circuits, without the coil's inductance.
    fn impedance(&self, hz: f64) -> Complex64 {
        let j = Complex64::i();
        let x = hz / self.fs;
        // In units of the mass's impedance at fs: loss, mass and compliance of the driver, then the box.
        let driver = 1.0 / self.qms + j * x + 1.0 / (j * x);
        let stiffness = self.alpha / (j * x);
        let load = match self.port {
            None => stiffness,
            Some((fb, ql)) => {
                let b = fb / self.fs;
                // Compliance, leak and port side by side: each by what flows through it.
                let flow = j * x / self.alpha + b / (self.alpha * ql) + b * b / (j * x * self.alpha);
                1.0 / flow
            }
        };
        self.re + (self.re / self.qes) / (driver + load)
    }
    /// The box's part of the voltage behind ten ohms, which peaks where the meter does: not quite where |Z| does.
    fn share(&self, hz: f64) -> f64 {
        let z = self.impedance(hz);
        (z / (z + 10.0)).norm()
    }
    /// What a meter shows across the box behind ten ohms at one volt, to so many digits behind the point.
    fn volts(&self, hz: f64, digits: i32) -> f64 {
        let step = 10_f64.powi(-digits);
        (self.share(hz) / step).round() * step
    }
    /// Extremes by a fine scan.
    fn extremes(&self) -> Vec<f64> {
        let at = |i: usize| 8.0 + 0.01 * i as f64;
        let z: Vec<f64> = (0..10_000).map(|i| self.share(at(i))).collect();
        (1..z.len() - 1).filter(|i| (z[*i] - z[i - 1]) * (z[i + 1] - z[*i]) < 0.0).map(at).collect()
    }
    /// Follows the search to its end: tones, and what it found.
    fn searched(&self, digits: i32) -> (usize, Vec<kerf_and_coil::model::measurement::Extreme>) {
        let mut tones: Vec<Tone> = Vec::new();
        for _ in 0..80 {
            let found = search(&tones, self.port.is_some(), 0.2);
            let Some(hz) = found.next_hz else { return (tones.len(), found.found) };
            tones.push((hz, self.volts(hz, digits)));
        }
        panic!("no end after 80 tones");
    }
}

const CLOSED: Rig = Rig { fs: 29.0, qms: 5.2, qes: 0.48, re: 3.4, alpha: 1.6, port: None };

#[test]
fn the_peak_of_a_closed_box_is_found() {
    for alpha in [0.4, 1.0, 1.6, 3.0] {
        let rig = Rig { alpha, ..CLOSED };
        let (tones, found) = rig.searched(4);
        let fc = rig.extremes()[0];
        println!("closed, α = {alpha}: {tones} tones, {:.2} Hz for {fc:.2} Hz", found[0].hz);
        assert_eq!(found.len(), 1);
        assert_near(found[0].hz, fc, 0.2);
        assert!(tones <= 30, "{tones}");
    }
}

#[test]
fn two_peaks_and_the_dip_of_a_vented_box_are_found() {
    for (alpha, fb, ql) in [(1.2, 30.0, 7.0), (0.8, 34.0, 10.0), (2.0, 27.0, 15.0)] {
        let rig = Rig { alpha, port: Some((fb, ql)), ..CLOSED };
        let (tones, found) = rig.searched(4);
        let truth = rig.extremes();
        println!("vented, {fb} Hz: {tones} tones, {found:?} for {truth:.2?}");
        assert_eq!(
            found.iter().map(|one| one.sought).collect::<Vec<_>>(),
            [Sought::LowPeak, Sought::Dip, Sought::HighPeak]
        );
        for (one, truth) in found.iter().zip(&truth) {
            assert_near(one.hz, *truth, 0.25);
        }
        assert!(tones <= 60, "{tones}");
    }
}

// Volume, tuning and leak come back from peaks and dip as the meter shows them behind ten ohms.
#[test]
fn peaks_and_dip_tell_volume_tuning_and_leak() {
    for (alpha, fb, ql) in [(1.2, 30.0, 4.0), (1.2, 30.0, 7.0), (0.8, 34.0, 10.0), (2.0, 27.0, 20.0)] {
        let rig = Rig { alpha, port: Some((fb, ql)), ..CLOSED };
        let truth = rig.extremes();
        let hz = Frequency::from_hertz;
        let proven = prove(&Proof {
            driver: ProofDriver {
                re: Resistance::from_ohms(3.4),
                coil: CoilImpedance::None,
                fs: hz(29.0),
                qes: 0.48,
                qms: 5.2,
                vas: Volume::from_litres(60.0),
            },
            resistor: Resistance::from_ohms(10.0),
            fs: hz(29.0),
            peaks: Peaks::Vented {
                low: hz(truth[0]),
                high: hz(truth[2]),
                dip: Some(hz(truth[1])),
                share: Some(rig.share(truth[1])),
            },
            resolution: hz(0.1),
        })
        .unwrap();
        let found = proven.loss.unwrap();
        println!("{:.2} L, {:.2} Hz, {found:.2?} for QL {ql}", proven.volume.litres(), proven.tuning.hertz());
        assert_near(proven.volume.litres() / (60.0 / alpha), 1.0, 0.003);
        assert_near(proven.tuning.hertz() / fb, 1.0, 0.001);
        assert_near(found.ql.unwrap() / ql, 1.0, 0.01);
    }
}

proptest! {
    /// Any readings lead to a next tone that can be played, or to the end.
    #[test]
    fn any_readings_lead_on(tones in prop::collection::vec((-5.0..600.0_f64, -1.0..3.0_f64), 0..40), vented in any::<bool>(), step in -1.0..9.0_f64) {
        let found = search(&tones, vented, step);
        if let Some(hz) = found.next_hz {
            prop_assert!((3.0..=500.0).contains(&hz));
        }
        prop_assert!(found.found.iter().all(|one| one.hz.is_finite() && one.within_hz.is_finite()));
    }
}
