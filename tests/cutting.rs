//! Properties of sheet layouts: every panel once and in its place, a kerf between neighbours, and the cuts alone,
//! edge to edge and in their order, free every panel.
use kerf_and_coil::model::cutting::tree::Region;
use kerf_and_coil::model::cutting::{
    CutWay, Job, PanelKind, Quality, Regime, SheetLayout, Solution, Stock, solve,
};
use kerf_and_coil::units::ExactLength;
use proptest::prelude::*;

fn mm(value: i64) -> ExactLength {
    ExactLength::from_hundredths_mm(value * 100)
}

fn regime() -> impl Strategy<Value = Regime> {
    prop_oneof![
        Just(Regime::Any),
        (2_u8..=3, any::<bool>()).prop_map(|(stages, across_first)| Regime::Staged { stages, across_first }),
    ]
}

fn panel(largest: i64) -> impl Strategy<Value = PanelKind> {
    (20..=largest, 20..=largest, 1_usize..4, any::<bool>()).prop_map(|(w, l, count, may_turn)| PanelKind {
        width: mm(w),
        length: mm(l),
        count,
        may_turn,
    })
}

fn small_job() -> impl Strategy<Value = Job> {
    let offcut = (300_i64..900, 300_i64..900, 1_usize..3).prop_map(|(w, l, count)| Stock {
        width: mm(w),
        length: mm(l),
        count: Some(count),
        cost: 0,
    });
    (prop::collection::vec(panel(500), 1..5), prop::option::of(offcut), 0_i64..6, 0_i64..12, regime())
        .prop_map(|(panels, offcut, kerf, trim, regime)| {
            let mut stock: Vec<Stock> = offcut.into_iter().collect();
            stock.push(Stock { width: mm(700), length: mm(1100), count: None, cost: 4000 });
            stock.push(Stock { width: mm(1000), length: mm(1500), count: None, cost: 7500 });
            Job { panels, stock, kerf: mm(kerf), trim: mm(trim), regime }
        })
}

fn large_job() -> impl Strategy<Value = Job> {
    (prop::collection::vec(panel(600), 16..30), 0_i64..6).prop_map(|(panels, kerf)| Job {
        panels,
        stock: vec![
            Stock { width: mm(500), length: mm(700), count: Some(1), cost: 0 },
            Stock { width: mm(1220), length: mm(2440), count: None, cost: 5000 },
        ],
        kerf: mm(kerf),
        trim: ExactLength::ZERO,
        regime: Regime::Any,
    })
}

/// Every panel of the job once, as large as wanted, turned only where it may be.
fn holds_all(job: &Job, solution: &Solution) {
    let mut left: Vec<usize> = job.panels.iter().map(|panel| panel.count).collect();
    for placed in solution.sheets.iter().flat_map(|sheet| &sheet.placed) {
        let kind = job.panels[placed.panel];
        left[placed.panel] = left[placed.panel].checked_sub(1).expect("a panel placed too often");
        let size = if placed.turned { [kind.length, kind.width] } else { [kind.width, kind.length] };
        assert_eq!(placed.size, size);
        assert!(kind.may_turn || !placed.turned);
    }
    assert!(left.iter().all(|&left| left == 0), "left over: {left:?}");
}

/// Inside the trimmed sheet, and a kerf from one another.
fn lies_apart(job: &Job, sheet: &SheetLayout) {
    let stock = job.stock[sheet.stock];
    for (number, one) in sheet.placed.iter().enumerate() {
        for (axis, side) in [stock.width, stock.length].into_iter().enumerate() {
            assert!(one.at[axis] >= job.trim && one.at[axis] + one.size[axis] <= side - job.trim);
        }
        for other in &sheet.placed[..number] {
            let apart = |axis: usize| {
                one.at[axis] >= other.at[axis] + other.size[axis] + job.kerf
                    || other.at[axis] >= one.at[axis] + one.size[axis] + job.kerf
            };
            assert!(apart(0) || apart(1), "{one:?} and {other:?}");
        }
    }
}

/// Cuts the sheet as told: every cut divides a piece that lies there, from edge to edge; what lies there in the end
/// are the panels and the offcuts.
fn cuts_free_all(job: &Job, sheet: &SheetLayout) {
    let edges = if job.trim > ExactLength::ZERO { 4 } else { 0 };
    let mut pieces = vec![Region { at: [job.trim; 2], size: job.usable(&job.stock[sheet.stock]) }];
    let mut freed: Vec<usize> = Vec::new();
    for cut in &sheet.cuts[edges..] {
        let axis = usize::from(cut.way == CutWay::Across);
        let at = pieces.iter().position(|piece| *piece == cut.piece).expect("no such piece lies there");
        let piece = pieces.swap_remove(at);
        assert_eq!(cut.position, piece.at[axis] + cut.fence);
        assert!(cut.fence > ExactLength::ZERO && cut.fence < piece.size[axis]);
        let mut kept = piece;
        kept.size[axis] = cut.fence;
        let mut rest = piece;
        rest.at[axis] = cut.position + job.kerf;
        rest.size[axis] = piece.size[axis] - cut.fence - job.kerf;
        pieces.push(kept);
        if rest.size[axis] > ExactLength::ZERO {
            pieces.push(rest);
        }
        freed.extend(&cut.frees);
    }
    for placed in &sheet.placed {
        let own = Region { at: placed.at, size: placed.size };
        let at = pieces.iter().position(|piece| *piece == own).expect("a panel did not come free");
        pieces.swap_remove(at);
    }
    for offcut in &sheet.offcuts {
        let at = pieces.iter().position(|piece| piece == offcut).expect("an offcut is not there");
        pieces.swap_remove(at);
    }
    assert!(pieces.is_empty(), "still there: {pieces:?}");
    if !sheet.cuts.is_empty() && edges == 0 {
        freed.sort_unstable();
        let mut all: Vec<usize> = sheet.placed.iter().map(|placed| placed.panel).collect();
        all.sort_unstable();
        assert_eq!(freed, all, "each panel comes free with one cut");
    }
}

fn sound(job: &Job, solution: &Solution) {
    holds_all(job, solution);
    for sheet in &solution.sheets {
        lies_apart(job, sheet);
        cuts_free_all(job, sheet);
    }
    for (kind, stock) in job.stock.iter().enumerate() {
        let used = solution.sheets.iter().filter(|sheet| sheet.stock == kind).count();
        assert!(stock.count.is_none_or(|count| used <= count));
    }
    let cost: u64 = solution.sheets.iter().map(|sheet| job.stock[sheet.stock].cost).sum();
    assert_eq!(cost, solution.cost);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn an_exact_layout_is_one_that_can_be_cut(job in small_job()) {
        let solution = solve(&job, 0).unwrap();
        prop_assert_eq!(solution.quality, Quality::Proved);
        sound(&job, &solution);
        // Whatever a few turns can do, any number of them can.
        let any = solve(&Job { regime: Regime::Any, ..job.clone() }, 0).unwrap();
        prop_assert!(any.cost <= solution.cost);
    }

    #[test]
    fn a_searched_layout_is_one_that_can_be_cut(job in large_job()) {
        let solution = solve(&job, 20).unwrap();
        let Quality::Found { least_sheets } = solution.quality else { panic!("beyond the exact method's reach") };
        prop_assert!(least_sheets <= solution.sheets.len());
        sound(&job, &solution);
    }

    #[test]
    fn whatever_is_asked_for_is_answered(sizes in prop::collection::vec((-5_i64..4000, -5_i64..4000, 0_usize..500), 0..6), kerf in -3_i64..2000) {
        let job = Job {
            panels: sizes.iter().map(|&(w, l, count)| PanelKind { width: mm(w), length: mm(l), count, may_turn: true }).collect(),
            stock: vec![Stock { width: mm(1220), length: mm(2440), count: Some(40), cost: u64::MAX }],
            kerf: mm(kerf),
            trim: mm(10),
            regime: Regime::Staged { stages: 2, across_first: true },
        };
        if let Ok(solution) = solve(&job, 2) {
            holds_all(&job, &solution);
        }
    }
}

#[test]
fn slices_of_work_come_to_the_same() {
    let panel = |w, l, count| PanelKind { width: mm(w), length: mm(l), count, may_turn: true };
    let job = Job {
        panels: vec![panel(460, 400, 2), panel(384, 400, 2), panel(384, 424, 4), panel(75, 346, 4)],
        stock: vec![Stock { width: mm(1220), length: mm(2440), count: None, cost: 1 }],
        kerf: ExactLength::from_hundredths_mm(320),
        trim: ExactLength::ZERO,
        regime: Regime::Any,
    };
    let mut solver = kerf_and_coil::model::cutting::Solver::new(&job, 0).unwrap();
    let mut slices = 0;
    while !solver.advance(200) {
        slices += 1;
    }
    assert!(slices > 5, "{slices} slices");
    assert_eq!(solver.solution().unwrap(), solve(&job, 0).unwrap());
}

#[test]
fn an_offcut_that_costs_nothing_is_used_first() {
    let job = Job {
        panels: vec![PanelKind { width: mm(300), length: mm(400), count: 2, may_turn: true }],
        stock: vec![
            Stock { width: mm(1220), length: mm(2440), count: None, cost: 5000 },
            Stock { width: mm(620), length: mm(420), count: Some(1), cost: 0 },
        ],
        kerf: mm(3),
        trim: ExactLength::ZERO,
        regime: Regime::Any,
    };
    let solution = solve(&job, 0).unwrap();
    assert_eq!(solution.cost, 0);
    assert_eq!(solution.sheets.len(), 1);
    assert_eq!(solution.sheets[0].stock, 1);
}
