//! Printed values that don't fit the others, judged by their printed digits, and the mistakes that explain them.
//!
//! A mistake is recognised by undoing it: if the sheet corrected for it fits, that is the cause.

use super::relations::{self, RELATED};
use super::{Connection, DataSheet, Parameter, Plan, Printed};
use crate::model::acoustics::Air;

/// How much the ρc² behind a printed Vas may differ from standard air: 1.18 kg/m³ and 345 m/s give 1 % less.
const AIR_SPREAD: f64 = 0.01;

/// A printed value that the values that win exclude.
#[derive(Clone, Debug, PartialEq)]
pub struct Contradiction {
    /// Which.
    pub parameter: Parameter,
    /// What is printed.
    pub printed: Printed,
    /// What follows from the values that win, in the connection measured.
    pub expected: f64,
    /// Least that can follow from them within their printed digits.
    pub expected_low: f64,
    /// Most that can follow from them within their printed digits.
    pub expected_high: f64,
    /// The mistakes each of which alone would explain it, the likeliest first; none if none is recognised.
    pub causes: Vec<Cause>,
}

/// A usual mistake of data sheets and of those who copy them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Cause {
    /// The data are for the coils connected like this.
    MeasuredIn(Connection),
    /// The resistance is that of the connection measured, not of one coil.
    ResistanceOfConnection,
    /// Re and Bl are for different connections: one for coils in series, the other for coils in parallel. Re times
    /// `factor` (4 or ¼) would fit Bl.
    ResistanceOfOtherConnection {
        /// What Re has to be multiplied by.
        factor: f64,
    },
    /// The value is in another unit than assumed.
    Unit {
        /// Which value.
        parameter: Parameter,
        /// What it has to be multiplied by.
        factor: f64,
    },
    /// Xmax is given from peak to peak.
    XmaxPeakToPeak,
    /// Vd is given from peak to peak.
    VdPeakToPeak,
}

/// Every contradiction of a sheet, with its cause where one is recognised.
pub(super) fn explained(sheet: &DataSheet, plan: &Plan) -> Vec<Contradiction> {
    let mut found = related(sheet, plan);
    if !found.is_empty() {
        let (cured, better): (Vec<_>, Vec<_>) = mistakes(sheet)
            .into_iter()
            .filter(|(_, corrected)| may_help(corrected, plan, &found))
            .filter_map(|(cause, corrected)| Some((cause, remaining(&corrected)?)))
            .filter(|(_, left)| left.iter().all(|p| found.iter().any(|c| c.parameter == *p)))
            .partition(|(_, left)| left.is_empty());
        for contradiction in &mut found {
            let cures = cured.iter().map(|(cause, _)| *cause);
            contradiction.causes = cures.collect();
            if cured.is_empty() {
                let helps = better.iter().filter(|(_, left)| !left.contains(&contradiction.parameter));
                contradiction.causes = helps.map(|(cause, _)| *cause).collect();
            }
        }
    }
    found.extend(excursion(sheet, plan));
    found
}

/// Whether a correction brings any contradicting value near what is then expected; spares the full judgement of most.
///
/// A correction scales what is expected and hardly changes how wide its range is in proportion.
fn may_help(corrected: &DataSheet, plan: &Plan, found: &[Contradiction]) -> bool {
    const MARGIN: f64 = 1.1;
    let modulus = Air::standard().bulk_modulus_pa();
    let Ok(values) = relations::propagate(corrected.inputs(plan, |p| p.value), modulus) else {
        return false;
    };
    found.iter().any(|contradiction| {
        let value = values[relations::index(contradiction.parameter)];
        let printed = corrected.printed(contradiction.parameter);
        value.zip(printed).is_some_and(|(value, printed)| {
            let scale = value / contradiction.expected;
            printed.high() * MARGIN > contradiction.expected_low * scale
                && printed.low() < contradiction.expected_high * scale * MARGIN
        })
    })
}

/// What would still contradict on a corrected sheet, or `None` if it has no driver.
fn remaining(sheet: &DataSheet) -> Option<Vec<Parameter>> {
    sheet.check().ok()?;
    let plan = sheet.plan().ok()?;
    sheet.driver(&plan).ok()?;
    Some(related(sheet, &plan).iter().map(|c| c.parameter).collect())
}

/// Printed values of related parameters that aren't used and don't fit.
fn related(sheet: &DataSheet, plan: &Plan) -> Vec<Contradiction> {
    let redundant = |i: usize| !plan.used[i] && sheet.printed(RELATED[i]).is_some();
    if !(0..RELATED.len()).any(redundant) {
        return Vec::new();
    }
    let Some(expected) = expectations(sheet, plan) else {
        return Vec::new();
    };
    RELATED
        .iter()
        .zip(expected)
        .enumerate()
        .filter(|(i, _)| redundant(*i))
        .filter_map(|(_, (parameter, range))| {
            let printed = sheet.printed(*parameter)?;
            judged(*parameter, printed, range.value, range.low, range.high)
        })
        .collect()
}

fn judged(
    parameter: Parameter,
    printed: Printed,
    expected: f64,
    low: f64,
    high: f64,
) -> Option<Contradiction> {
    // A hair of rounding, so that a value printed exactly on the edge of its interval fits.
    let slack = 1e-9 * printed.value;
    (printed.high() + slack < low || printed.low() - slack > high).then_some(Contradiction {
        parameter,
        printed,
        expected,
        expected_low: low,
        expected_high: high,
        causes: Vec::new(),
    })
}

/// A value that follows from the inputs as printed, and its extremes over everything their digits allow.
#[derive(Clone, Copy)]
struct Range {
    value: f64,
    low: f64,
    high: f64,
}

/// The range of each of [`RELATED`], Re being that of the connection measured.
///
/// Each relation rises or falls steadily with each of its inputs, so the extremes lie at corners of the inputs' box.
/// `None` if a corner is one no driver can have, such as Qts above Qms: then nothing is excluded.
fn expectations(sheet: &DataSheet, plan: &Plan) -> Option<[Range; RELATED.len()]> {
    let modulus = Air::standard().bulk_modulus_pa();
    let values = relations::propagate(sheet.inputs(plan, |p| p.value), modulus).ok()?;
    let mut ranges = [Range { value: 0.0, low: 0.0, high: 0.0 }; RELATED.len()];
    for (range, value) in ranges.iter_mut().zip(values) {
        let value = value?;
        *range = Range { value, low: value, high: value };
    }
    let count = plan.used.iter().filter(|used| **used).count();
    for corner in 0u32..1 << (count + 1) {
        let mut bit = 0;
        let known = sheet.inputs(plan, |printed| {
            bit += 1;
            if corner >> bit & 1 == 0 { printed.low() } else { printed.high() }
        });
        let spread = if corner & 1 == 0 { -AIR_SPREAD } else { AIR_SPREAD };
        let values = relations::propagate(known, modulus * (1.0 + spread)).ok()?;
        for (range, value) in ranges.iter_mut().zip(values) {
            let value = value?;
            range.low = range.low.min(value);
            range.high = range.high.max(value);
        }
    }
    Some(ranges)
}

/// The sheet with one mistake after another undone, the likeliest first.
fn mistakes(sheet: &DataSheet) -> Vec<(Cause, DataSheet)> {
    let mut list = Vec::new();
    if sheet.coils > 1 {
        for measured in [Connection::Series, Connection::Parallel, Connection::OneCoil] {
            if measured != sheet.measured {
                list.push((Cause::MeasuredIn(measured), DataSheet { measured, ..*sheet }));
            }
        }
        if sheet.measured != Connection::OneCoil {
            let factor = 1.0 / sheet.resistance_factor();
            list.push((Cause::ResistanceOfConnection, scaled(sheet, Parameter::Re, factor)));
        }
    } else {
        for factor in [4.0, 0.25] {
            list.push((Cause::ResistanceOfOtherConnection { factor }, scaled(sheet, Parameter::Re, factor)));
        }
    }
    for (parameter, ratio) in [
        (Parameter::Vas, 28.316_846_592), // litres in a cubic foot
        (Parameter::Vas, 1000.0),         // litres in a cubic metre
        (Parameter::Sd, 100.0),           // square decimetres and square centimetres
        (Parameter::Sd, 10_000.0),        // square centimetres in a square metre
        (Parameter::Sd, 6.4516),          // square centimetres in a square inch
        (Parameter::Mms, 1000.0),         // grams in a kilogram
        (Parameter::Cms, 1000.0),         // micrometres in a millimetre
    ] {
        for factor in [ratio, 1.0 / ratio] {
            list.push((Cause::Unit { parameter, factor }, scaled(sheet, parameter, factor)));
        }
    }
    list
}

fn scaled(sheet: &DataSheet, parameter: Parameter, factor: f64) -> DataSheet {
    let mut sheet = *sheet;
    let field = match parameter {
        Parameter::Re => &mut sheet.re_per_coil,
        Parameter::Vas => &mut sheet.vas,
        Parameter::Sd => &mut sheet.sd,
        Parameter::Mms => &mut sheet.mms,
        Parameter::Cms => &mut sheet.cms,
        _ => return sheet,
    };
    *field = field.map(|printed| printed.scaled(factor));
    sheet
}

/// Contradictions of Xmax and Vd: with each other, with the winding and the gap, with the mechanical limit.
fn excursion(sheet: &DataSheet, plan: &Plan) -> Vec<Contradiction> {
    let mut found = Vec::new();
    let Some(xmax) = sheet.xmax else {
        return found;
    };
    let half = xmax.scaled(0.5);
    // Overhung or underhung, the winding leaves the gap after half the difference of the heights.
    if let (Some(coil), Some(gap)) = (sheet.coil_height, sheet.gap_height) {
        let expected = 0.5 * (coil.value - gap.value).abs();
        let spread = 0.5 * (coil.half_digit + gap.half_digit);
        let (low, high) = ((expected - spread).max(0.0), expected + spread);
        if let Some(mut contradiction) = judged(Parameter::Xmax, xmax, expected, low, high) {
            let fits = judged(Parameter::Xmax, half, expected, low, high).is_none();
            contradiction.causes.extend(fits.then_some(Cause::XmaxPeakToPeak));
            found.push(contradiction);
        }
    }
    if let Some(limit) = sheet.xmech
        && let Some(mut contradiction) = judged(Parameter::Xmax, xmax, limit.value, 0.0, limit.high())
    {
        let fits = half.low() <= limit.high();
        contradiction.causes.extend(fits.then_some(Cause::XmaxPeakToPeak));
        found.push(contradiction);
    }
    if let Some(vd) = sheet.vd
        && let Some((sd, sd_low, sd_high)) =
            sheet.sd.map(|sd| (sd.value, sd.low(), sd.high())).or_else(|| {
                let sd = expectations(sheet, plan)?[relations::index(Parameter::Sd)];
                Some((sd.value, sd.low, sd.high))
            })
    {
        let judge = |x: Printed, vd: Printed| {
            judged(Parameter::Vd, vd, sd * x.value, sd_low * x.low(), sd_high * x.high())
        };
        if let Some(mut contradiction) = judge(xmax, vd) {
            if judge(half, vd).is_none() {
                contradiction.causes.push(Cause::XmaxPeakToPeak);
            } else if judge(xmax, vd.scaled(0.5)).is_none() {
                contradiction.causes.push(Cause::VdPeakToPeak);
            }
            found.push(contradiction);
        }
    }
    found
}
