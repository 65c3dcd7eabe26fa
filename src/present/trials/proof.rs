//! The proof of a built box in words.
use super::super::format::{fixed, si};
use crate::design::report::Report;
use crate::model::measurement::{BoxLoss, Proof, ProvenBox, Relation};
use crate::units::{Frequency, Quantity, UnitPrefs};
use crate::words::prove as words;

/// What the impedance proves, beside the drawing: sentences, and whether the two agree within twice the uncertainty.
#[must_use]
pub fn proof(found: &ProvenBox, report: &Report, prefs: &UnitPrefs) -> (Option<bool>, String) {
    let litres = |cubic_metres: f64| si(cubic_metres, Quantity::Volume, prefs).to_string();
    let mut text = words::proven(
        &litres(found.volume.cubic_metres()),
        &litres(2.0 * found.volume_uncertainty.cubic_metres()),
        &fixed(found.tuning.hertz(), 1),
        &fixed(2.0 * found.tuning_uncertainty.hertz(), 1),
    );
    let mut add = |more: &str| {
        text.push(' ');
        text.push_str(more);
    };
    let Ok(sound) = &report.sound else { return (None, text) };
    add(&words::drawn(&litres(sound.net.cubic_metres()), &fixed(sound.resonance.hertz(), 1)));
    let apart = found.volume.cubic_metres() - sound.net.cubic_metres();
    let agrees = apart.abs() <= 2.0 * found.volume_uncertainty.cubic_metres();
    let share = 100.0 * apart / sound.net.cubic_metres();
    let half = 200.0 * found.volume_uncertainty.cubic_metres() / sound.net.cubic_metres();
    add(&words::over_drawn(&fixed(share.abs(), 0), &fixed(half, 0), share >= 0.0));
    add(if agrees { words::AGREES } else { words::DIFFERS });
    (Some(agrees), text)
}

/// The box's losses beside the QL entered; what they wait for without. `lossless` says that the coil's model has no
/// losses of its own.
#[must_use]
pub fn losses(found: Option<BoxLoss>, entered: Option<f64>, lossless: bool) -> String {
    let Some(found) = found else { return words::LOSS_ASK.into() };
    let ql = |ql: f64| fixed(ql, 0);
    let entered = entered.map_or_else(|| words::NONE_ENTERED.into(), ql);
    let said = match (found.ql, found.high) {
        (Some(middle), Some(high)) => words::loss(&ql(middle), &ql(found.low), &ql(high), &entered),
        _ => words::loss_above(&ql(found.low), &entered),
    };
    if lossless { format!("{said} {}", words::COIL_COUNTS) } else { said }
}

/// A check of the proof: what it is, both sides, the difference, whether it holds, and what it means.
#[derive(Clone, Debug, PartialEq)]
pub struct ProofCheck {
    /// What is compared.
    pub name: &'static str,
    /// The left side.
    pub left: String,
    /// The right side.
    pub right: String,
    /// Their difference.
    pub apart: String,
    /// Whether they agree as this box should.
    pub holds: bool,
    /// What the difference means.
    pub verdict: String,
}

fn percent(share: f64) -> String {
    words::percent(&fixed(100.0 * share.abs(), 1), share >= 0.0)
}

/// The checks that the entries allow; `fc` is the peak with the port stopped up.
#[must_use]
pub fn checks(proof: &Proof, found: &ProvenBox, fc: Option<Frequency>) -> Vec<ProofCheck> {
    let (today, printed) = (proof.fs.hertz(), proof.driver.fs.hertz());
    let apart = today / printed - 1.0;
    let mut checks = vec![ProofCheck {
        name: words::DRIVER,
        left: words::hertz(&fixed(today, 1)),
        right: words::hertz(&fixed(printed, 1)),
        apart: percent(apart),
        holds: apart.abs() <= SHEET,
        verdict: if apart.abs() <= SHEET { words::DRIVER_HOLDS } else { words::DRIVER_OFF }.into(),
    }];
    let mut relation = |name, relation: Option<Relation>, off: &'static str| {
        let Some(relation) = relation else { return };
        let expected = percent(relation.left / relation.expected - 1.0);
        checks.push(ProofCheck {
            name,
            left: words::square_hertz(&fixed(relation.left, 0)),
            right: words::square_hertz(&fixed(relation.right, 0)),
            apart: percent(relation.left / relation.right - 1.0),
            holds: relation.holds(),
            verdict: words::expected(&expected, if relation.holds() { words::HOLDS } else { off }),
        });
    };
    relation(words::PRODUCT, Relation::product(proof, found), words::PRODUCT_OFF);
    relation(words::SUM, fc.and_then(|fc| Relation::sum(proof, found, fc)), words::SUM_OFF);
    checks
}

/// Data sheets and drivers part by so much without a reason to look, as a share (common practice, no source).
const SHEET: f64 = 0.1;
