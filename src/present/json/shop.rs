//! What leaves the saw as JSON: templates with their files, weight, sheet layout, bill; for the native `report` program.
use serde_json::{Value, json};

use super::{Object, mm};
use crate::design::bench::{Bench, bench};
use crate::design::built::piece_key;
use crate::design::cutting::{self, NamedJob};
use crate::design::document::{Design, Sheet};
use crate::design::evaluate::{RingReport, planned_rings};
use crate::design::report::{BoxReport, Gap, Report};
use crate::design::testbox::{ExtraPart, test_box};
use crate::model::cutting::Quality;
use crate::model::geometry::rings::{Contour, Ring};
use crate::model::geometry::{Hole, HoleShape, crash_newtons};
use crate::present::assembling::{Picture, StepView, assembling};
use crate::present::bench::diagonals;
use crate::present::cutting::{BillRow, boards, panel_name, supplies};
use crate::present::templates::{Paper, Template, dxf, hole_name, pages, svg, templates};
use crate::present::testbox;
use crate::present::{names, rings};
use crate::units::UnitPrefs;

/// Everything about the box that leaves the saw; `None` while there is no box.
#[must_use]
pub fn shop(design: &Design, report: &Report) -> Option<Value> {
    if matches!(report.enclosure, Err(Gap::Rings)) {
        return planned_rings(&design.sheet, report).ok().map(|found| stack(&design.sheet, &found));
    }
    let enclosure = report.enclosure.as_ref().ok()?;
    let test_box = test_box(&design.sheet, report, enclosure);
    let extras: &[ExtraPart] = test_box.as_ref().map_or(&[], |found| &found.extras);
    let mut all = templates(enclosure);
    if let Some(found) = &test_box {
        all.extend(testbox::extra_templates(found, enclosure.spec.boards.shell.thickness));
    }
    let jobs = cutting::jobs(&design.sheet, enclosure, extras);
    let mut layouts = jobs.iter().map(|job| {
        let supplies = if job.board == jobs[0].board {
            supplies(enclosure, &design.sheet, &UnitPrefs::default())
        } else {
            Vec::new()
        };
        layout(supplies, job)
    });
    let layout = layouts.next();
    let others: Vec<Value> = layouts.collect();
    Some(json!({
        "templates": all.iter().map(template).collect::<Vec<_>>(),
        "pages": { "A4": pages(&all, Paper::A4), "letter": pages(&all, Paper::Letter) },
        "bench": checks(&bench(&design.sheet, report, enclosure)),
        "layout": layout,
        "layouts_of_other_boards": others,
        "order": order(enclosure),
        "beside": extras.iter().map(|part| beside(part, enclosure)).collect::<Vec<_>>(),
    }))
}

/// A stack of rings: templates with the areas they should have, air, weight.
fn stack(sheet: &Sheet, found: &RingReport) -> Value {
    let prefs = UnitPrefs::default();
    let job = cutting::ring_job(sheet, found);
    let stack = &found.stack;
    let ring = |ring: &Ring| json!({ "ring_mm2": ring.area().square_metres() * 1e6, "inner_mm2": ring.inner.area_mm2() });
    json!({
        "rings": stack.rings.iter().map(ring).collect::<Vec<_>>(),
        "plates_mm2": stack.plates.iter().map(Contour::area_mm2).collect::<Vec<_>>(),
        "wall_mm": mm(found.spec.wall),
        "thickness_mm": mm(found.spec.thickness),
        "depth_mm": mm(stack.depth),
        "air_litres": stack.air.litres(),
        "net_litres": found.net.litres(),
        "kg": stack.mass.kilograms(),
        "centre_width_depth_height_mm": stack.centre_mm,
        "pins_mm": stack.pins,
        "layout": layout(rings::supplies(found, sheet, &prefs), &job),
        "order": rings::steps(found).iter().map(step).collect::<Vec<_>>(),
        "templates": rings::templates(found).iter().map(template).collect::<Vec<_>>(),
    })
}

/// The order of gluing.
fn order(report: &BoxReport) -> Value {
    let found = assembling(report);
    json!({
        "steps": found.steps.iter().map(step).collect::<Vec<_>>(),
        "exploded": picture(&found.exploded),
        "after": found.after,
    })
}

fn step(step: &StepView) -> Value {
    json!({ "title": step.title, "how": step.how, "drawing": picture(&step.picture) })
}

/// A drawing as paths.
fn picture(picture: &Picture) -> Value {
    json!({ "size": picture.size, "before": picture.before, "new": picture.new, "glue": picture.glue })
}

/// A piece cut beside the box.
fn beside(part: &ExtraPart, report: &BoxReport) -> Value {
    Object::new()
        .with("piece", testbox::extra_name(part.name))
        .with("count", part.count)
        .with("size_mm", [part.length, part.width].map(mm).to_vec())
        .with("kg", part.mass(report.spec.boards.shell).kilograms())
        .maybe("hole_mm", part.hole.map(mm))
        .into()
}

fn template(template: &Template) -> Value {
    let outline = &template.outline;
    // Rings and plugs are no piece of the box.
    let key = piece_key(outline.part);
    let piece = if template.file == key.replace(' ', "-") { &key } else { &template.file };
    json!({
        "file": template.file,
        "count": template.count,
        "piece": piece,
        "axes": outline.axes.map(names::axis),
        "size_mm": outline.size.map(mm),
        "thickness_mm": mm(outline.thickness),
        "holes": outline.holes.iter().map(hole).collect::<Vec<_>>(),
        "svg": svg(template),
        "dxf": dxf(template),
    })
}

fn hole(hole: &Hole) -> Value {
    let shape = match hole.shape {
        HoleShape::Round(diameter) => json!({ "diameter_mm": mm(diameter) }),
        HoleShape::Rectangle(window) => json!({
            "across_mm": mm(window.across),
            "up_mm": mm(window.up),
            "radius_mm": mm(window.corner_radius),
        }),
    };
    Object::new()
        .with("use", hole_name(hole.use_))
        .with("at_mm", hole.at.map(mm).to_vec())
        .with("shape", shape)
        .maybe("depth_mm", hole.depth.map(mm))
        .into()
}

fn checks(bench: &Bench) -> Value {
    let parts = bench.weight.parts.iter().map(
        |part| json!({ "part": names::part(part.name), "count": part.count, "kg": part.mass.kilograms() }),
    );
    let panel = bench.panel.map(|panel| {
        json!({
            "faces": names::axis(panel.faces),
            "pressure_pa": panel.pressure.pascals(),
            "force_n": panel.force_newtons,
            "sag_mm": panel.sag.millimetres(),
            "mode_hz": panel.mode.hertz(),
            "braced_mode_hz": panel.braced.1.hertz(),
        })
    });
    Object::new()
        .with("wood_kg", bench.weight.wood.kilograms())
        .with("total_kg", bench.weight.total.kilograms())
        .with("centre_depth_width_height_mm", bench.weight.centre_mm.to_vec())
        .with("crash_n", crash_newtons(bench.weight.total))
        .with("parts", parts.collect::<Vec<_>>())
        .with(
            "diagonals_mm",
            diagonals(bench).map(|(name, length)| json!([name, mm(length)])).collect::<Vec<_>>(),
        )
        .maybe("panel", panel)
        .into()
}

fn layout(supplies: Vec<BillRow>, job: &NamedJob) -> Value {
    let solution = match cutting::solve(job) {
        Ok(solution) => solution,
        Err(error) => return json!({ "refused": error.to_string() }),
    };
    let sheets = solution.sheets.iter().map(|sheet| {
        let placed = sheet.placed.iter().map(|panel| {
            json!({
                "piece": job.names.get(panel.panel).map(|name| panel_name(*name)),
                "at_mm": panel.at.map(mm),
                "size_mm": panel.size.map(mm),
            })
        });
        json!({ "size_mm": sheet.sheet.map(mm), "cuts": sheet.cuts.len(), "placed": placed.collect::<Vec<_>>() })
    });
    let mut rows = boards(job, &solution, &UnitPrefs::default());
    rows.extend(supplies);
    json!({
        "board": job.board,
        "thickness_mm": mm(job.thickness),
        "proved": solution.quality == Quality::Proved,
        "sheets": sheets.collect::<Vec<_>>(),
        "bill": rows.iter().map(|(name, amount, unit)| json!([name, amount, unit])).collect::<Vec<_>>(),
    })
}
