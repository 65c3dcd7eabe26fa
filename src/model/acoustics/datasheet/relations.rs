//! The relations between small-signal parameters, solved for whatever is missing.

use super::Parameter;
use crate::model::error::ModelError;
use std::f64::consts::TAU;

/// The parameters that are related to one another, the six that win first.
pub(super) const RELATED: [Parameter; 10] = [
    Parameter::Fs,
    Parameter::Qes,
    Parameter::Qms,
    Parameter::Vas,
    Parameter::Sd,
    Parameter::Re,
    Parameter::Qts,
    Parameter::Mms,
    Parameter::Cms,
    Parameter::Bl,
];

/// A value for each of [`RELATED`], as far as known; Re is that of the connection measured.
pub(super) type Known = [Option<f64>; RELATED.len()];

// Places in `RELATED`.
const FS: usize = 0;
const QES: usize = 1;
const QMS: usize = 2;
const VAS: usize = 3;
const SD: usize = 4;
const RE: usize = 5;
const QTS: usize = 6;
const MMS: usize = 7;
const CMS: usize = 8;
const BL: usize = 9;

/// Whether a printed value of this parameter wins over what follows from others.
pub(super) fn wins(parameter: Parameter) -> bool {
    index(parameter) < QTS
}

/// The place of a parameter in [`RELATED`]; those that are not in it are never asked for.
pub(super) fn index(parameter: Parameter) -> usize {
    RELATED.iter().position(|p| *p == parameter).unwrap_or(0)
}

/// A product of powers that equals a constant: Π xᵢ^eᵢ = constant, with exponents of ±1 and ±2.
struct PowerLaw {
    factors: &'static [(usize, i32)],
    constant: f64,
}

/// (2π·fs)²·Mms·Cms = 1, Vas = ρc²·Sd²·Cms and Qes = 2π·fs·Mms·Re/Bl².
fn power_laws(bulk_modulus_pa: f64) -> [PowerLaw; 3] {
    [
        PowerLaw { factors: &[(FS, 2), (MMS, 1), (CMS, 1)], constant: 1.0 / (TAU * TAU) },
        PowerLaw { factors: &[(VAS, 1), (SD, -2), (CMS, -1)], constant: bulk_modulus_pa },
        PowerLaw { factors: &[(QES, 1), (FS, -1), (MMS, -1), (RE, -1), (BL, 2)], constant: TAU },
    ]
}

/// Fills in everything that follows from what is known.
///
/// # Errors
/// [`ModelError::Impossible`] if Qts is not below both Qes and Qms; [`ModelError::Missing`] if something stays unknown.
pub(super) fn propagate(mut known: Known, bulk_modulus_pa: f64) -> Result<Known, ModelError> {
    let laws = power_laws(bulk_modulus_pa);
    loop {
        let before = known.iter().flatten().count();
        for law in &laws {
            solve_power_law(law, &mut known);
        }
        solve_total_q(&mut known)?;
        let after = known.iter().flatten().count();
        if after == known.len() {
            return Ok(known);
        }
        if after == before {
            return Err(ModelError::Missing { what: "a value of the data sheet" });
        }
    }
}

fn solve_power_law(law: &PowerLaw, known: &mut Known) {
    let mut rest = law.constant;
    let mut missing = None;
    for &(i, exponent) in law.factors {
        match (known[i], missing) {
            (Some(value), _) => rest /= value.powi(exponent),
            (None, None) => missing = Some((i, exponent)),
            (None, Some(_)) => return,
        }
    }
    if let Some((i, exponent)) = missing {
        let root = if exponent.abs() == 2 { rest.sqrt() } else { rest };
        known[i] = Some(if exponent < 0 { 1.0 / root } else { root });
    }
}

/// 1/Qts = 1/Qes + 1/Qms.
fn solve_total_q(known: &mut Known) -> Result<(), ModelError> {
    let difference = |total: f64, part: f64| {
        if total < part {
            Ok(Some(1.0 / (1.0 / total - 1.0 / part)))
        } else {
            Err(ModelError::Impossible { what: "Qts must be below both Qes and Qms" })
        }
    };
    match (known[QTS], known[QES], known[QMS]) {
        (None, Some(qes), Some(qms)) => known[QTS] = Some(qes * qms / (qes + qms)),
        (Some(qts), None, Some(qms)) => known[QES] = difference(qts, qms)?,
        (Some(qts), Some(qes), None) => known[QMS] = difference(qts, qes)?,
        _ => {}
    }
    Ok(())
}

/// Marks everything that follows from what is marked.
pub(super) fn spread(known: &mut [bool; RELATED.len()]) {
    let relations: [&[usize]; 4] =
        [&[FS, MMS, CMS], &[VAS, SD, CMS], &[QES, FS, MMS, RE, BL], &[QTS, QES, QMS]];
    loop {
        let mut changed = false;
        for relation in relations {
            let mut unknown = relation.iter().filter(|i| !known[**i]);
            if let (Some(&only), None) = (unknown.next(), unknown.next()) {
                known[only] = true;
                changed = true;
            }
        }
        if !changed {
            return;
        }
    }
}

/// The smallest sets of further values from which everything follows, those of winning parameters first.
pub(super) fn smallest_completions(known: &[bool; RELATED.len()]) -> Vec<Vec<Parameter>> {
    let unknown: Vec<usize> = (0..RELATED.len()).filter(|i| !known[*i]).collect();
    for size in 1..=unknown.len() {
        let mut found: Vec<Vec<usize>> = (0u32..1 << unknown.len())
            .filter(|mask| mask.count_ones() as usize == size)
            .map(|mask| chosen(&unknown, mask))
            .filter(|set| completes(known, set))
            .collect();
        if !found.is_empty() {
            crate::small::sort_by(&mut found, Ord::cmp);
            return found.into_iter().map(|set| set.into_iter().map(|i| RELATED[i]).collect()).collect();
        }
    }
    Vec::new()
}

fn chosen(unknown: &[usize], mask: u32) -> Vec<usize> {
    unknown.iter().enumerate().filter(|(bit, _)| mask >> bit & 1 == 1).map(|(_, i)| *i).collect()
}

fn completes(known: &[bool; RELATED.len()], more: &[usize]) -> bool {
    let mut known = *known;
    for &i in more {
        known[i] = true;
    }
    spread(&mut known);
    known.iter().all(|k| *k)
}
