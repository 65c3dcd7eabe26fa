//! Isometric line drawings: every visible stretch of every edge, what is behind left out.
//!
//! Each edge is cut where it crosses the outline of a face on paper; a stretch is hidden where some face lies nearer to
//! the eye in its middle. Pieces do not run through one another, so that is exact up to the corners of circles.
use crate::model::geometry::End;
use crate::model::geometry::faces::{At3, Drawn, Edge, Face, Polyhedron};

/// A point on paper: right, down, in millimetres of the box.
pub type At = [f64; 2];

/// A visible stretch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stroke {
    /// Its ends on paper.
    pub ends: [At; 2],
    /// Its ends in the box.
    pub in_box: [At3; 2],
    /// The place of its piece in the list drawn.
    pub piece: usize,
}

/// What lies this much nearer hides, in mm along the line of sight.
const NEARER: f64 = 0.05;
/// Nearer than this on paper a point lies on a line, in mm.
const ON_LINE: f64 = 1e-6;
/// Lines whose boxes are this far apart on paper do not cross, in mm: more than rounding makes of it.
const CLEAR: f64 = 1e-4;
/// A shorter stretch is not drawn, in mm on paper.
const SHORTEST: f64 = 0.05;

/// From where a box is seen: the end of each axis that looks at the eye.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Eye(pub [End; 3]);

impl Eye {
    /// Towards the eye, of length 1.
    #[must_use]
    pub fn direction(self) -> At3 {
        self.0.map(|end| if end == End::High { 1.0 } else { -1.0 } / 3f64.sqrt())
    }

    /// Right, down, and towards the eye. Depth, width, height are a left-handed set, so right is eye × up.
    #[must_use]
    pub fn project(self, at: At3) -> [f64; 3] {
        let [d, w, _] = self.direction();
        let right = [w, -d, 0.0];
        let wide = right[0].hypot(right[1]);
        let eye = self.direction();
        let up = [-eye[0] * eye[2] / wide, -eye[1] * eye[2] / wide, wide];
        let dot = |a: At3| a[0] * at[0] + a[1] * at[1] + a[2] * at[2];
        [dot(right) / wide, -dot(up), dot(eye)]
    }
}

/// Lines of an outline one after the other, and the box around them on paper.
struct Run {
    lines: Vec<[At; 2]>,
    min: At,
    max: At,
}

/// Lines in a run.
const RUN: usize = 8;

impl Run {
    fn of(lines: &[[At; 2]]) -> Self {
        let fold = |i: usize, pick: fn(f64, f64) -> f64, start: f64| {
            lines.iter().flatten().map(|at| at[i]).fold(start, pick)
        };
        Self {
            lines: lines.to_vec(),
            min: [0, 1].map(|i| fold(i, f64::min, f64::INFINITY)),
            max: [0, 1].map(|i| fold(i, f64::max, f64::NEG_INFINITY)),
        }
    }
}

/// A face that looks at the eye, on paper.
struct Screen {
    /// Its outline, then its holes.
    runs: Vec<Run>,
    /// Nearness = a + b x + c y.
    plane: [f64; 3],
    min: At,
    max: At,
    /// Greatest nearness.
    nearest: f64,
}

/// The visible strokes of pieces that stand where they stand.
#[must_use]
pub fn visible(pieces: &[&Polyhedron], eye: Eye) -> Vec<Stroke> {
    let mut screens: Vec<Screen> =
        pieces.iter().flat_map(|piece| &piece.faces).filter_map(|face| Screen::of(face, eye)).collect();
    // Those that reach nearest to the eye first: what follows the last that is near enough hides nothing.
    screens.sort_by(|a, b| b.nearest.total_cmp(&a.nearest));
    let mut paper = Paper::of(screens);
    let mut strokes = Vec::new();
    for (number, piece) in pieces.iter().enumerate() {
        for edge in piece.edges.iter().filter(|edge| is_drawn(edge, piece, eye)) {
            stretches(edge, number, &mut paper, eye, &mut strokes);
        }
    }
    strokes
}

/// Columns and rows of the paper.
const CELLS: usize = 24;

/// Faces by where they lie on paper: an edge asks only those in its own cells.
struct Paper {
    /// Nearest first.
    screens: Vec<Screen>,
    min: At,
    cell: At,
    /// Places in the list of screens, row by row.
    cells: Vec<Vec<usize>>,
    /// What was asked for last; kept, so that it is not made anew for every edge.
    asked: Vec<usize>,
}

impl Paper {
    fn of(screens: Vec<Screen>) -> Self {
        let reach = |i: usize| {
            let low = screens.iter().map(|screen| screen.min[i]).fold(f64::INFINITY, f64::min);
            let high = screens.iter().map(|screen| screen.max[i]).fold(f64::NEG_INFINITY, f64::max);
            (low, ((high - low) / CELLS as f64).max(1e-3))
        };
        let (x, y) = (reach(0), reach(1));
        let mut paper = Self {
            min: [x.0, y.0],
            cell: [x.1, y.1],
            cells: vec![Vec::new(); CELLS * CELLS],
            asked: Vec::new(),
            screens: Vec::new(),
        };
        for (number, screen) in screens.iter().enumerate() {
            for cell in paper.covered(screen.min, screen.max) {
                if let Some(cell) = paper.cells.get_mut(cell) {
                    cell.push(number);
                }
            }
        }
        paper.screens = screens;
        paper
    }

    /// The cells of a rectangle; what lies beyond the paper counts as on its rim.
    fn covered(&self, min: At, max: At) -> impl Iterator<Item = usize> + use<> {
        let cell = |at: f64, i: usize| (((at - self.min[i]) / self.cell[i]) as usize).min(CELLS - 1);
        let [columns, rows] = [0, 1].map(|i| cell(min[i], i)..=cell(max[i], i));
        rows.flat_map(move |row| columns.clone().map(move |column| row * CELLS + column))
    }

    /// The screens in the cells of a line, nearest first.
    fn along(&mut self, from: At, to: At) -> impl Iterator<Item = &Screen> {
        let [min, max] = [f64::min, f64::max].map(|of| [of(from[0], to[0]), of(from[1], to[1])]);
        self.asked.clear();
        for cell in self.covered(min, max) {
            self.asked.extend(self.cells.get(cell).into_iter().flatten());
        }
        self.asked.sort_unstable();
        self.asked.dedup();
        self.asked.iter().filter_map(|number| self.screens.get(*number))
    }
}

fn towards(normal: At3, eye: Eye) -> bool {
    let sight = eye.direction();
    (0..3).map(|i| normal[i] * sight[i]).sum::<f64>() > 1e-9
}

fn is_drawn(edge: &Edge, piece: &Polyhedron, eye: Eye) -> bool {
    let seen = edge.faces.map(|face| piece.faces.get(face).is_some_and(|face| towards(face.normal, eye)));
    match edge.drawn {
        Drawn::Always => seen[0] || seen[1],
        Drawn::AsOutline => seen[0] != seen[1],
        Drawn::Never => false,
    }
}

/// Adds the stretches of an edge that nothing hides.
fn stretches(edge: &Edge, piece: usize, paper: &mut Paper, eye: Eye, strokes: &mut Vec<Stroke>) {
    let [from, to] = edge.ends.map(|end| eye.project(end));
    let long = (to[0] - from[0]).hypot(to[1] - from[1]);
    if long < SHORTEST {
        return;
    }
    let mut hidden: Vec<[f64; 2]> = Vec::new();
    let near = from[2].min(to[2]) + NEARER;
    let screens = paper.along([from[0], from[1]], [to[0], to[1]]);
    for screen in screens.take_while(|screen| screen.nearest >= near) {
        screen.hides(from, to, &mut hidden);
        if hidden.last() == Some(&[0.0, 1.0]) {
            return;
        }
    }
    hidden.sort_unstable_by(|a, b| a[0].total_cmp(&b[0]));
    let at = |share: f64| [0, 1, 2].map(|i| edge.ends[0][i] + (edge.ends[1][i] - edge.ends[0][i]) * share);
    let mut add = |start: f64, end: f64| {
        if (end - start) * long >= SHORTEST {
            let in_box = [at(start), at(end)];
            let ends = in_box.map(|point| {
                let [x, y, _] = eye.project(point);
                [x, y]
            });
            strokes.push(Stroke { ends, in_box, piece });
        }
    };
    let mut reached = 0.0;
    for [start, end] in hidden {
        if start > reached {
            add(reached, start);
        }
        reached = end.max(reached);
    }
    add(reached, 1.0);
}

impl Screen {
    fn of(face: &Face, eye: Eye) -> Option<Self> {
        if !towards(face.normal, eye) {
            return None;
        }
        let project = |point: &At3| {
            let [x, y, near] = eye.project(*point);
            ([x, y], near)
        };
        let points: Vec<(At, f64)> = face.rings.first()?.iter().map(project).collect();
        let lines = |ring: &Vec<At3>| {
            let on_paper: Vec<At> = ring.iter().map(|point| project(point).0).collect();
            let next = on_paper.iter().cycle().skip(1);
            on_paper.iter().zip(next).map(|(a, b)| [*a, *b]).collect::<Vec<_>>()
        };
        let lines: Vec<Vec<[At; 2]>> = face.rings.iter().map(lines).collect();
        let runs = lines.iter().flat_map(|ring| ring.chunks(RUN)).map(Run::of).collect();
        let whole = Run::of(lines.first()?);
        let (min, max) = (whole.min, whole.max);
        let nearest = points.iter().map(|p| p.1).fold(f64::NEG_INFINITY, f64::max);
        Some(Self { runs, plane: plane(face, eye)?, min, max, nearest })
    }

    /// Adds the stretches, as shares of the edge, that this face hides.
    fn hides(&self, from: [f64; 3], to: [f64; 3], hidden: &mut Vec<[f64; 2]>) {
        let beside = (0..2).any(|i| from[i].max(to[i]) < self.min[i] || from[i].min(to[i]) > self.max[i]);
        // Where the edge comes through the face's plane; both are straight, so what is nearer at both ends is nearer all along.
        let over = |end: [f64; 3]| self.nearness([end[0], end[1]]) - end[2];
        let (first, last) = (over(from), over(to));
        if beside || first.max(last) < NEARER {
            return;
        }
        let mut cuts = vec![0.0, 1.0];
        let step = [to[0] - from[0], to[1] - from[1]];
        let reach = [0, 1].map(|i| [from[i].min(to[i]) - CLEAR, from[i].max(to[i]) + CLEAR]);
        let apart = |min: At, max: At| (0..2).any(|i| max[i] < reach[i][0] || min[i] > reach[i][1]);
        for run in self.runs.iter().filter(|run| !apart(run.min, run.max)) {
            for [a, b] in &run.lines {
                cuts.extend(crossing([from[0], from[1]], step, *a, *b));
            }
        }
        if (first > 0.0) != (last > 0.0) {
            cuts.push((first / (first - last)).clamp(0.0, 1.0));
        }
        cuts.sort_unstable_by(f64::total_cmp);
        for pair in cuts.windows(2) {
            if pair[1] - pair[0] < 1e-9 {
                continue;
            }
            let share = (pair[0] + pair[1]) / 2.0;
            let at = [from[0] + step[0] * share, from[1] + step[1] * share];
            let near = from[2] + (to[2] - from[2]) * share;
            if self.nearness(at) > near + NEARER && self.holds(at) {
                hidden.push([pair[0], pair[1]]);
            }
        }
    }

    fn nearness(&self, [x, y]: At) -> f64 {
        self.plane[0] + self.plane[1] * x + self.plane[2] * y
    }

    /// Whether a point of the paper lies on the face, its outlines included and holes left out: an odd number of edges to
    /// its right. A line just behind an outline is drawn by the outline.
    fn holds(&self, [x, y]: At) -> bool {
        let mut inside = false;
        for run in &self.runs {
            // Wholly above, below or to the left: nothing to count, nothing to lie on.
            if run.max[1] < y - ON_LINE || run.min[1] > y + ON_LINE || run.max[0] < x - ON_LINE {
                continue;
            }
            for [a, b] in &run.lines {
                if beside([x, y], *a, *b) < ON_LINE {
                    return true;
                }
                if (a[1] > y) != (b[1] > y) && x < a[0] + (b[0] - a[0]) * (y - a[1]) / (b[1] - a[1]) {
                    inside = !inside;
                }
            }
        }
        inside
    }
}

/// Distance of a point from a stretch.
fn beside([x, y]: At, a: At, b: At) -> f64 {
    let (dx, dy) = (b[0] - a[0], b[1] - a[1]);
    let share = (((x - a[0]) * dx + (y - a[1]) * dy) / (dx * dx + dy * dy).max(1e-12)).clamp(0.0, 1.0);
    (x - a[0] - dx * share).hypot(y - a[1] - dy * share)
}

/// Share of the way from `from` by `step` at which it crosses the line from `a` to `b`, if it does.
fn crossing(from: At, step: At, a: At, b: At) -> Option<f64> {
    let side = [b[0] - a[0], b[1] - a[1]];
    let cross = step[0] * side[1] - step[1] * side[0];
    if cross.abs() < 1e-12 {
        return None;
    }
    let off = [a[0] - from[0], a[1] - from[1]];
    let share = (off[0] * side[1] - off[1] * side[0]) / cross;
    let along = (off[0] * step[1] - off[1] * step[0]) / cross;
    ((0.0..=1.0).contains(&share) && (-1e-9..=1.0 + 1e-9).contains(&along)).then_some(share)
}

/// Nearness over the paper of a face's plane.
fn plane(face: &Face, eye: Eye) -> Option<[f64; 3]> {
    let point = face.rings.first()?.first()?;
    let [x, y, near] = eye.project(*point);
    // The normal in the paper's own directions: along them nearness changes by −n·direction / n·eye.
    let [right, down, facing] = eye.project(face.normal);
    if facing <= 1e-9 {
        return None;
    }
    let slope = [-right / facing, -down / facing];
    Some([near - slope[0] * x - slope[1] * y, slope[0], slope[1]])
}
