//! A shaped box put together: sides, the boards around them, and what goes in.
//!
//! Holes and bodies behind a leaning board are given as if it stood upright, together with its turn.
use super::shaped_forms::cut_to;
use super::{Assembly, BodyKind, Role};
use crate::model::error::ModelError;
use crate::model::geometry::axes::{Axis, Dims};
use crate::model::geometry::bent::shaped as bent;
use crate::model::geometry::checks::Fact;
use crate::model::geometry::edges::{self, BACK};
use crate::model::geometry::layout::Layout;
use crate::model::geometry::parts::{Dimension, PartId};
use crate::model::geometry::plane::At;
use crate::model::geometry::polygon::{Opening, Polygon, Turn};
use crate::model::geometry::profile::{Inside, Profile, Shape};
use crate::model::geometry::section::Section;
use crate::model::geometry::shell::{StandsOver, shows, stands_over};
use crate::model::geometry::sizes::{self, Sizes};
use crate::model::geometry::solids::Solid;
use crate::model::geometry::spec::{BoxSpec, StripVoids, WindowBrace};
use crate::model::geometry::strips::leaning;
use crate::units::ExactLength;

impl Assembly {
    /// Puts a shaped box together from cut sizes.
    ///
    /// # Errors
    /// As [`Assembly::from_sizes`].
    #[inline(never)] // only shaped boxes need it: it may come after the first result
    pub(super) fn shaped(
        spec: &BoxSpec,
        profile: &Profile,
        sizes: &Sizes,
        layout: fn(&BoxSpec, Dims) -> Layout,
    ) -> Result<Self, ModelError> {
        let shape = Shape::asked(spec, profile, ExactLength::ZERO)?.as_cut(sizes)?;
        let section = shape.section()?;
        let inside = Inside::of(&shape)?;
        let asked = spec;
        let spec = &inside.fitted(spec);
        let outside = shape.outside();
        // Whatever the front covers, places on it are counted from the lower corner of the side.
        let face = ExactLength::from_millimetres(shape.front_edge());
        let mut assembly = Self {
            outside,
            inside: inside.size,
            inside_min: inside.min,
            front_thickness: spec.front_thickness(),
            bodies: Vec::with_capacity(32),
            layout: layout(spec, outside.with(Axis::Height, face)),
            port: None,
            front_port: None,
            misfits: Vec::new(),
            over: Dims::default(),
            strips: spec.boards.strips.thickness,
            loose: spec.loose.map(|loose| edges::board(loose.face)),
            hollow: Some(Solid::Prism {
                section: inside.polygon,
                from: inside.min.width,
                width: inside.size.width,
                opening: None,
            }),
        };
        assembly.layout.put_on_polygons(spec, &inside, outside.width - spec.boards.shell.thickness);
        assembly.add_boards(spec, &shape, &section)?;
        assembly.misfit(spec, &shape, &section, sizes)?;
        let boards = assembly.bodies.len();
        let asked_run = bent::of(asked);
        let run = asked_run.and_then(|run| run.built(&inside.polygon, sizes));
        assembly.add_to_front(spec, sizes, run.is_some())?;
        if shape.turn(PartId::Front(0)).is_some() {
            assembly.turn_from(boards, shape.turn(PartId::Front(0)));
        }
        if let Some((asked, run)) = asked_run.zip(run) {
            let turns = [PartId::Front(0), PartId::Back].map(|id| shape.turn(id));
            assembly.add_run(spec, &asked, &run, sizes, turns)?;
        } else {
            assembly.ports_to_back(spec)?;
        }
        if !assembly.layout.elsewhere.is_empty() {
            assembly.place_elsewhere(spec);
        }
        assembly.add_across(spec, sizes, &inside)?;
        if !assembly.layout.elsewhere.is_empty() {
            assembly.add_elsewhere(spec, &|face| shape.turn(edges::board(face)));
        }
        assembly.add_shaped_braces(spec, sizes, &inside, run.as_ref())?;
        assembly.add_strips(spec, sizes)?;
        assembly.add_leaning_strips(asked, sizes, &inside);
        if let Some(loose) = spec.loose {
            if loose.face.0 != Axis::Width && !section.comes_off(inside.wall(loose.face)) {
                return Err(ModelError::Impossible {
                    what: "the board that comes off can't be drawn out past a leaning board that covers its end: let it cover that one",
                });
            }
            assembly.add_shaped_battens(&inside, loose)?;
        }
        let before = assembly.bodies.len();
        assembly.add_terminal(spec);
        let face = spec.terminal.as_ref().map_or(BACK, |terminal| terminal.face);
        if !bent::takes_terminals(spec) {
            assembly.turn_from(before, shape.turn(edges::board(face)));
        }
        Ok(assembly)
    }

    /// Strips where boards don't meet squarely. What the tape takes off is missing half at either end.
    fn add_leaning_strips(&mut self, spec: &BoxSpec, sizes: &Sizes, inside: &Inside) {
        let Some(wanted) = &spec.strips else { return };
        for &edge in wanted.edges.iter().filter(|edge| !inside.is_square(**edge)) {
            let id = PartId::Strip(edge);
            let face = sizes.get(id, Dimension::Face);
            let found = leaning::place(spec, inside, edge, face).filter(|_| face > ExactLength::ZERO);
            let Some(strip) = found else { continue };
            let over = sizes.get(id, edge.along.into()) - strip.long();
            if over > ExactLength::ZERO && shows(over, spec) {
                self.misfits.push(Fact::Cover { part: id, dimension: edge.along.into(), over });
            }
            let corners = leaning::shortened(strip.wedge, (-over.millimetres()).max(0.0) / 2.0);
            self.push(BodyKind::Strip(edge), Role::Displaced, Solid::Wedge { corners });
            let hollow = leaning::hollow(&corners, spec.boards.strips.thickness.millimetres());
            if let (StripVoids::Open, Some(corners)) = (wanted.voids, hollow) {
                self.push(BodyKind::StripVoid(edge), Role::Hollow, Solid::Wedge { corners });
            }
        }
    }

    pub(in crate::model::geometry) fn turn_from(&mut self, first: usize, turn: Option<Turn>) {
        self.bodies.iter_mut().skip(first).for_each(|body| body.turn = turn);
    }

    fn add_boards(&mut self, spec: &BoxSpec, shape: &Shape, section: &Section) -> Result<(), ModelError> {
        let thickness = spec.boards.shell.thickness;
        let prism = |corners: &[At], from: ExactLength, width: ExactLength| Solid::Prism {
            section: Polygon::new(corners),
            from,
            width,
            opening: None,
        };
        for (id, from) in [(PartId::Left, ExactLength::ZERO), (PartId::Right, self.outside.width - thickness)]
        {
            self.push(BodyKind::Board(id), Role::Shell, prism(section.outline(), from, thickness));
        }
        for id in shape.names() {
            let layers = if id == PartId::Front(0) { spec.front_layers } else { 1 };
            for layer in 0..layers {
                let id = if layer > 0 { PartId::Front(layer) } else { id };
                let turn = shape.turn(id);
                let upright = |at: At| turn.map_or(at, |turn| turn.back().point(at));
                let corners = shape.board(section, id)?.corners().map(upright);
                self.push(BodyKind::Board(id), Role::Shell, prism(&corners, thickness, self.inside.width));
                self.turn_from(self.bodies.len() - 1, turn);
            }
        }
        Ok(())
    }

    /// Boards that were not cut as they meet here.
    fn misfit(
        &mut self,
        spec: &BoxSpec,
        shape: &Shape,
        section: &Section,
        sizes: &Sizes,
    ) -> Result<(), ModelError> {
        for (part, dimension, size) in sizes.iter() {
            let fits = match (part, dimension) {
                (PartId::Left | PartId::Right, Dimension::Depth) => self.outside.depth,
                (PartId::Left | PartId::Right, Dimension::Height) => self.outside.height,
                (_, Dimension::Width) if shape.wall(part).is_some() => self.inside.width,
                _ if shape.wall(part).is_some() => shape.length(section, part)?,
                _ => continue,
            };
            let over = size - fits;
            if shows(over, spec) {
                self.misfits.push(Fact::Cover { part, dimension, over });
            }
            // What a leaning board stands over counts along its slope, so rather too much.
            if dimension == Dimension::Height && spec.profile.is_some_and(|profile| profile.is_cover(part)) {
                self.over.height = self.over.height.max(stands_over(over));
            }
        }
        Ok(())
    }

    /// How far it is from a point on the inner face of the front straight backwards to the next wall, in millimetres.
    /// The point and the way are those of the front before it is turned.
    pub(in crate::model::geometry) fn free_behind(&self, at: At, turn: Option<Turn>) -> Option<f64> {
        let Some(Solid::Prism { section, .. }) = &self.hollow else { return None };
        let from = turn.map_or(at, |turn| turn.point(at));
        let way = turn.map_or([1.0, 0.0], |turn| turn.direction([1.0, 0.0]));
        let upright =
            self.upright_of_slot().and_then(|board| Polygon::new(&board.profile()).ahead(from, way));
        section.ahead(from, way).into_iter().chain(upright).reduce(f64::min)
    }

    fn add_shaped_braces(
        &mut self,
        spec: &BoxSpec,
        sizes: &Sizes,
        inside: &Inside,
        run: Option<&bent::Run>,
    ) -> Result<(), ModelError> {
        let thickness = spec.boards.inner.thickness;
        let whole = inside.brace(spec, run);
        // Braces of a divided box stand in the room behind the drivers.
        let (before, room) = (spec.before_cones(), self.inside.width - spec.before_cones());
        for (kind, brace) in (0u8..).zip(&spec.braces) {
            if thickness * i64::from(brace.count) >= room {
                return Err(ModelError::Impossible { what: "the braces fill the box" });
            }
            for number in 0..brace.count {
                let id = PartId::Brace(kind, number);
                let size = [Dimension::Depth, Dimension::Height].map(|size| sizes.get(id, size));
                let section = cut_to(&whole, size);
                let opening =
                    if brace.is_solid() { None } else { Some(opening(&section, brace, spec.brace_rim)?) };
                let start = before + sizes::brace_start(room, thickness, brace.count, number);
                let solid =
                    Solid::Prism { section, from: self.inside_min.width + start, width: thickness, opening };
                self.push(BodyKind::Board(id), Role::Displaced, solid);
            }
        }
        Ok(())
    }
}

/// What covers of a shaped box are larger than what they cover, below zero where they are smaller; none where the sizes
/// make no box.
#[inline(never)] // only the cut list of shaped boxes needs it: it may come after the first result
pub(in crate::model::geometry) fn covers_of_shape(
    spec: &BoxSpec,
    profile: &Profile,
    sizes: &Sizes,
) -> Vec<StandsOver> {
    let shape = Shape::asked(spec, profile, ExactLength::ZERO).and_then(|shape| shape.as_cut(sizes));
    let Some((shape, section)) = shape.and_then(|shape| Ok((shape, shape.section()?))).ok() else {
        return Vec::new();
    };
    let covers = sizes.iter().filter(|(part, size, _)| *size == Dimension::Height && profile.is_cover(*part));
    let over = |(part, dimension, size)| {
        let fits = shape.length(&section, part).ok()?;
        Some(StandsOver { part, dimension, over: size - fits })
    };
    covers.filter_map(over).collect()
}

/// A window half way up, in the middle of the depth that is free there.
fn opening(section: &Polygon, brace: &WindowBrace, rim: Option<ExactLength>) -> Result<Opening, ModelError> {
    let [low, high] = section.bounds();
    let length = ExactLength::from_millimetres;
    let mut window = brace.window_in(rim, [ExactLength::ZERO, length(high[1] - low[1])]);
    let half = window.up.millimetres() / 2.0;
    let up = (low[1] + high[1]) / 2.0;
    let clear = section.clear_between(up - half, up + half);
    let opening = clear.map(|clear| {
        window.across = WindowBrace::side(rim, window.across, length(clear[1] - clear[0]));
        Opening { middle: [(clear[0] + clear[1]) / 2.0, up], window }
    });
    opening.filter(|opening| section.holds(opening.bounds())).ok_or(ModelError::Impossible {
        what: "a brace has no room for its window: a wider rim, or fewer braces",
    })
}
