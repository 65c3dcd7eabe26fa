//! Figures of `data/woodworking/handbook.csv` that the model uses.
use kerf_and_coil::model::geometry::{Board, BoxSpec, checks};

use super::mm;
use crate::assert_near;

const HANDBOOK: &str = include_str!("../data/woodworking/handbook.csv");

/// The line of a handbook row.
fn row(id: &str) -> &'static str {
    HANDBOOK.lines().find(|line| line.starts_with(&format!("{id},"))).unwrap_or_else(|| panic!("no row {id}"))
}

#[test]
fn default_density_is_the_handbooks_proposal() {
    let line = row("mdf-density-range");
    assert!(line.contains("default suggestion: 740"));
    // The range quoted there is 680 to 830 kg/m³.
    assert!(line.contains(",680,830,"));
    assert_near(Board::mdf(mm(18.0)).density_kg_m3, 740.0, 0.0);
}

#[test]
fn screw_distance_from_the_edge() {
    assert!(row("screw-face-edge").contains(",12,mm,12,,verified from,"));
    assert_near(checks::SCREW_EDGE.millimetres(), 12.0, 0.0);
}

#[test]
fn full_kerf_is_within_what_blades_cut() {
    assert!(row("kerf-full").contains(",3.175,mm,3.0,3.3,verified from,"));
    let spec = BoxSpec::plain(Default::default(), Board::mdf(mm(18.0)));
    assert!((3.0..=3.3).contains(&spec.kerf.millimetres()));
}

/// Row `ply-birch-18`: 36.7 kg for 1.22 × 2.44 m at 685 kg/m³ and the nominal 18 mm, which the row itself recomputes.
#[test]
fn a_sheets_mass_by_its_density() {
    use kerf_and_coil::model::geometry::{AsBuilt, Dims, plan};
    assert!(row("ply-birch-18").contains("36.7 kg per 1220x2440"));
    let board = Board { thickness: mm(18.0), density_kg_m3: 685.0, number: 0 };
    let size = Dims { width: mm(400.0), height: mm(500.0), depth: mm(450.0) };
    let spec = BoxSpec::plain(size, board);
    let plan = plan(&spec, &AsBuilt::new()).expect("a plain box");
    let sheet_m2 = 1.22 * 2.44;
    let per_sheet = plan.board_mass(&spec).kilograms() / plan.board_area().square_metres() * sheet_m2;
    assert_near(per_sheet, 36.7, 0.05);
}
