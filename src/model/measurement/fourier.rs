//! Fourier transforms of whole recordings.
use num_complex::Complex64;
use rustfft::algorithm::Radix4;
use rustfft::{Fft, FftDirection};

/// The transform of samples padded with zeros to `size`, a power of two.
///
/// Unscaled, e^(−jωt). Samples beyond `size` are left out.
pub(super) fn forward(samples: &[f64], size: usize) -> Vec<Complex64> {
    let mut spectrum: Vec<Complex64> = samples.iter().take(size).map(|x| Complex64::new(*x, 0.0)).collect();
    spectrum.resize(size, Complex64::default());
    Radix4::new(size, FftDirection::Forward).process(&mut spectrum);
    spectrum
}

/// The real part of the inverse transform of a spectrum whose length is a power of two, scaled by 1/length.
pub(super) fn back(mut spectrum: Vec<Complex64>) -> Vec<f64> {
    let size = spectrum.len();
    Radix4::new(size, FftDirection::Inverse).process(&mut spectrum);
    spectrum.iter().map(|x| x.re / size as f64).collect()
}

/// The transform of a few samples at one frequency, in cycles per sample.
pub(super) fn at(samples: &[f64], cycles: f64) -> Complex64 {
    // One turn after the other costs a fraction of a sine for each sample, and is off by 1e-13 after a few thousand.
    let turn = Complex64::from_polar(1.0, -std::f64::consts::TAU * cycles);
    let (mut sum, mut phasor) = (Complex64::default(), Complex64::new(1.0, 0.0));
    for x in samples {
        sum += phasor * x;
        phasor *= turn;
    }
    sum
}
