//! Published alignments as places to begin: what volume and tuning a driver's Qts asks for.

use crate::model::acoustics::{Air, Load};
use crate::model::error::ModelError;
use crate::units::{Frequency, Volume};

/// A published alignment of a vented or closed box.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Alignment {
    /// Closed, Qtc 0.5: critically damped.
    ClosedCritical,
    /// Closed, Qtc 0.577: flattest delay (Bessel).
    ClosedBessel,
    /// Closed, Qtc 0.707: flattest response (Butterworth).
    ClosedButterworth,
    /// Closed, Qtc 1: a rise of 1.25 dB.
    ClosedFull,
    /// Vented, quasi-Butterworth of third order (QB3), for a Qts below that of B4.
    VentedQuasi,
    /// Vented, Butterworth of fourth order (B4): one Qts only.
    VentedButterworth,
    /// Vented, Chebyshev of fourth order (C4), for a Qts above that of B4.
    VentedChebyshev,
}

/// A box to begin with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Start {
    /// The alignment.
    pub alignment: Alignment,
    /// Net volume, all drivers together.
    pub net: Volume,
    /// Tuning of a vented box.
    pub tuning: Option<Frequency>,
    /// The −3 dB point.
    pub f3: Frequency,
}

/// A row of the vented tables at QL = 7: Qt, h = fb/fs, α = Vas/Vb, f3/fs.
type Row = [f64; 4];

/// Vented alignments at QL = 7 by rising Qt: QB3 below the B4 row, C4 above.
///
/// # Source
/// Small, JAES 21 (1973) 363: polynomial of the vented box with QL, solved for each alignment; the reference table
/// `vented_box_alignments.csv` gives these rows to 5 decimals.
const VENTED: &[Row] = &[
    [0.180_00, 2.149_50, 9.858_89, 2.834_46],
    [0.200_00, 1.939_30, 7.777_48, 2.528_92],
    [0.220_00, 1.767_83, 6.237_25, 2.275_92],
    [0.240_00, 1.625_41, 5.065_55, 2.062_00],
    [0.260_00, 1.505_36, 4.153_46, 1.877_79],
    [0.280_00, 1.402_90, 3.429_50, 1.716_52],
    [0.300_00, 1.314_53, 2.845_20, 1.573_16],
    [0.320_00, 1.237_62, 2.366_73, 1.443_90],
    [0.340_00, 1.170_18, 1.969_92, 1.325_81],
    [0.360_00, 1.110_63, 1.637_11, 1.216_71],
    [0.380_00, 1.057_77, 1.355_15, 1.115_31],
    [0.400_00, 1.010_60, 1.114_12, 1.021_39],
    [0.404_81, 1.000_00, 1.061_32, 1.000_00],
    [0.420_00, 0.966_23, 0.911_28, 0.937_28],
    [0.440_00, 0.921_19, 0.752_06, 0.866_02],
    [0.460_00, 0.878_05, 0.629_66, 0.806_36],
    [0.480_00, 0.838_48, 0.536_10, 0.756_73],
    [0.500_00, 0.803_11, 0.464_20, 0.715_45],
    [0.550_00, 0.732_13, 0.345_32, 0.639_26],
    [0.600_00, 0.680_52, 0.274_85, 0.588_35],
];
/// Index of the B4 row.
const B4: usize = 12;
/// A Qts this near to that of B4 counts as B4.
const B4_WIDTH: f64 = 0.01;

/// Qtc and f3/fc of the closed alignments. Small, JAES 20 (1972) 798; table `closed_box_qtc.csv`.
const CLOSED: &[(Alignment, f64, f64)] = &[
    (Alignment::ClosedCritical, 0.5, 1.553_77),
    (Alignment::ClosedBessel, 0.577_35, 1.272_02),
    (Alignment::ClosedButterworth, std::f64::consts::FRAC_1_SQRT_2, 1.0),
    (Alignment::ClosedFull, 1.0, 0.786_15),
];

/// Every alignment that suits the drivers: closed ones above their Qts, and the vented one of it at QL = 7.
///
/// # Errors
/// Those of [`Load::check`].
pub fn starts(load: &Load, air: &Air) -> Result<Vec<Start>, ModelError> {
    load.check()?;
    let set = load.driver.small_signal(air)?;
    let (qts, fs) = (set.qts(), set.fs.hertz());
    let vas = set.vas.cubic_metres() * load.wiring.drivers as f64;
    let mut starts = Vec::new();
    for &(alignment, qtc, f3_over_fc) in CLOSED {
        let ratio = qtc / qts;
        if ratio > 1.02 {
            starts.push(Start {
                alignment,
                net: Volume::from_cubic_metres(vas / (ratio * ratio - 1.0)),
                tuning: None,
                f3: Frequency::from_hertz(f3_over_fc * fs * ratio),
            });
        }
    }
    if let Some([_, h, alpha, f3]) = vented_row(qts) {
        let b4 = VENTED.get(B4).map_or(0.0, |row| row[0]);
        let alignment = if (qts - b4).abs() < B4_WIDTH {
            Alignment::VentedButterworth
        } else if qts < b4 {
            Alignment::VentedQuasi
        } else {
            Alignment::VentedChebyshev
        };
        starts.push(Start {
            alignment,
            net: Volume::from_cubic_metres(vas / alpha),
            tuning: Some(Frequency::from_hertz(h * fs)),
            f3: Frequency::from_hertz(f3 * fs),
        });
    }
    Ok(starts)
}

/// The row of a Qts, between two of the table by equal ratios; `None` outside of it.
fn vented_row(qts: f64) -> Option<Row> {
    let above = VENTED.iter().position(|row| row[0] >= qts)?;
    let high = VENTED.get(above)?;
    let low = VENTED.get(above.checked_sub(1).unwrap_or(above))?;
    let span = high[0] - low[0];
    if span <= 0.0 {
        // The first row itself, or below it.
        return (high[0] - qts < 1e-9).then_some(*high);
    }
    let share = (qts - low[0]) / span;
    Some([0, 1, 2, 3].map(|i| low[i] * (high[i] / low[i]).powf(share)))
}
