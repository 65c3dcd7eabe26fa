//! What weighing and measuring a cable proves.
use super::{Block, Row, milliohms};
use crate::design::report::{Gap, ProofReport, Report};
use crate::model::electrical::prove::copper_metre;
use crate::present::format::{NO_NUMBER, fixed};
use crate::present::{names, tables};
use crate::units::Area;
use crate::words::feed as words;

pub(super) fn blocks(report: &Report) -> Vec<Block> {
    let mut blocks = vec![Block::Text(words::PROOF_HOW.into())];
    match &report.proof {
        Some(Ok(report)) => blocks.extend(found(report)),
        Some(Err(Gap::Refused(_))) => blocks.push(Block::Text(words::PROOF_CLAIM.into())),
        Some(Err(_)) | None => {}
    }
    blocks.push(Block::Text(words::PROOF_SOURCE.into()));
    blocks
}

fn mm2(area: Option<Area>) -> String {
    area.map_or(NO_NUMBER.into(), |area| {
        let value = 1e6 * area.square_metres();
        format!("{}\u{a0}mm²", fixed(value, usize::from(value < 20.0)))
    })
}

fn found(report: &ProofReport) -> Vec<Block> {
    let proof = &report.proof;
    let rows = proof.metals.iter().map(|metal| Row {
        header: (names::metal(metal.material).into(), String::new()),
        cells: vec![(mm2(metal.by_mass), String::new()), (mm2(metal.by_resistance), String::new())],
    });
    let best = proof.metals.first().map_or("", |metal| names::metal(metal.material));
    let verdict = match (proof.sure, proof.by_both, proof.copper_fits) {
        (true, true, _) => words::proof_sure(best),
        (_, false, true) => words::PROOF_COPPER_FITS.into(),
        (_, false, false) => words::PROOF_NOT_COPPER.into(),
        (false, true, _) => words::proof_unsure(best),
    };
    let mut pairs = vec![(words::AS_COPPER, mm2(Some(proof.copper_equivalent)))];
    pairs.push((words::METRE, milliohms(copper_metre(proof.copper_equivalent).ohms())));
    if let (Some(share), Some(size)) = (proof.of_claim, report.claimed) {
        pairs.push((words::OF_CLAIM, words::of_claim(&fixed(100.0 * share, 0), &tables::size(size))));
    }
    vec![
        Block::Text(verdict),
        Block::Table { heads: &words::PROOF_HEADS, rows: rows.collect() },
        Block::Pairs(pairs),
    ]
}
