//! Where the probes go, drawn as the eye finds it: a driver from behind its magnet with its terminals and jumpers, the
//! pulled amplifier plug, or the box terminals. The red lead is a diamond marked R, the black one a square marked B.
use super::wiring_drawing::{Segment, Wire};
use crate::design::meter::Spot;
use crate::model::electrical::meter::Probe;
use crate::model::electrical::wiring::{CoilId, Polarity, Terminal, Tree};
use crate::words::{guide, table};

/// Which lead.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lead {
    /// Red: a diamond, R.
    Red,
    /// Black: a square, B.
    Black,
}

/// How a text stands at its point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// Begins there.
    Start,
    /// Has its middle there.
    Middle,
    /// Ends there.
    End,
}

/// A text.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// Foot.
    pub at: [f64; 2],
    /// How it stands.
    pub anchor: Anchor,
    /// What it says.
    pub text: String,
}

/// The finished drawing, in CSS pixels at natural size.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ProbeDrawing {
    /// Natural size.
    pub size: [f64; 2],
    /// Circles: middle, radius.
    pub rings: Vec<([f64; 2], f64)>,
    /// Boxes: corner, size.
    pub boxes: Vec<[[f64; 2]; 2]>,
    /// Thin lines: a fuse's wire, a lamp's cross, a ground sign.
    pub strokes: Vec<[[f64; 2]; 2]>,
    /// Wires and jumpers.
    pub wires: Vec<Segment>,
    /// From a probe's mark to the point it touches.
    pub tips: Vec<[[f64; 2]; 2]>,
    /// Terminals.
    pub terminals: Vec<[f64; 2]>,
    /// The probes' marks.
    pub leads: Vec<(Lead, [f64; 2])>,
    /// Texts.
    pub labels: Vec<Label>,
}

pub(super) const WIDTH: f64 = 330.0;
const HEIGHT: f64 = 190.0;
const MIDDLE: [f64; 2] = [WIDTH / 2.0, 96.0];
const BASKET: f64 = 78.0;
const MAGNET: f64 = 46.0;

/// Draws the place of a measurement on a wiring.
#[must_use]
pub fn draw(tree: &Tree, spot: Spot, at_amplifier: bool) -> ProbeDrawing {
    let mut drawing = ProbeDrawing { size: [WIDTH, HEIGHT], ..ProbeDrawing::default() };
    match spot {
        Spot::Leads => drawing.leads_touching(),
        Spot::Line if at_amplifier => drawing.line(tree, guide::PLUG),
        Spot::Line | Spot::At(Probe::BoxTerminals) => drawing.line(tree, guide::CUP),
        Spot::At(Probe::AcrossCoil(id)) => drawing.driver(tree, id, true),
        Spot::At(Probe::CoilAlone(id)) => drawing.driver(tree, id, false),
    }
    drawing
}

impl Anchor {
    const fn mirrored(self) -> Self {
        match self {
            Self::Start => Self::End,
            Self::Middle => Self::Middle,
            Self::End => Self::Start,
        }
    }
}

/// A terminal of a driver seen from behind: coil A at the left, B at the right; C and D below them.
fn terminal_at(coils: usize, coil: u8, polarity: Polarity) -> [f64; 2] {
    let left = coil.is_multiple_of(2) && coils > 1;
    let row = match (coils > 2, coil) {
        (false, _) => 0.0,
        (true, 0 | 1) => -38.0,
        (true, _) => 38.0,
    };
    let apart = if polarity == Polarity::Plus { -18.0 } else { 18.0 };
    let y = MIDDLE[1] + row + apart;
    // On the basket's edge.
    let across = (BASKET * BASKET - (row + apart) * (row + apart)).max(0.0).sqrt();
    [if left { MIDDLE[0] - across } else { MIDDLE[0] + across }, y]
}

impl ProbeDrawing {
    /// The drawing for the other hand: left and right exchanged, its texts as readable as before. Not for a driver from
    /// behind, which is drawn as the eye finds it.
    #[must_use]
    #[inline(never)]
    pub fn mirrored(mut self) -> Self {
        let width = self.size[0];
        let turn = |point: &mut [f64; 2]| point[0] = width - point[0];
        self.rings.iter_mut().for_each(|(at, _)| turn(at));
        for [corner, size] in &mut self.boxes {
            corner[0] = width - corner[0] - size[0];
        }
        let wires = self.wires.iter_mut().map(|wire| &mut wire.ends);
        self.strokes.iter_mut().chain(&mut self.tips).chain(wires).flatten().for_each(turn);
        self.terminals.iter_mut().for_each(turn);
        self.leads.iter_mut().for_each(|(_, at)| turn(at));
        for label in &mut self.labels {
            turn(&mut label.at);
            label.anchor = label.anchor.mirrored();
        }
        self
    }

    pub(super) fn text(&mut self, at: [f64; 2], anchor: Anchor, text: &str) {
        self.labels.push(Label { at, anchor, text: text.into() });
    }

    pub(super) fn touch(&mut self, lead: Lead, mark: [f64; 2], point: [f64; 2]) {
        self.tips.push([mark, point]);
        self.leads.push((lead, mark));
    }

    fn legend(&mut self) {
        self.text([8.0, HEIGHT - 6.0], Anchor::Start, guide::RED);
        self.text([WIDTH - 8.0, HEIGHT - 6.0], Anchor::End, guide::BLACK);
    }

    fn leads_touching(&mut self) {
        let tip = [MIDDLE[0], 84.0];
        self.touch(Lead::Red, [MIDDLE[0] - 80.0, 50.0], tip);
        self.touch(Lead::Black, [MIDDLE[0] + 80.0, 50.0], tip);
        self.terminals.push(tip);
        self.legend();
    }

    /// The end of the line: two points, the line behind them.
    fn line(&mut self, tree: &Tree, name: &str) {
        let (x, plus, minus) = (120.0, 66.0, 118.0);
        self.boxes.push([[x - 34.0, 40.0], [46.0, 104.0]]);
        self.text([x - 34.0, 32.0], Anchor::Start, name);
        for (y, wire, lead, sign) in
            [(plus, Wire::Plus, Lead::Red, "+"), (minus, Wire::Minus, Lead::Black, "−")]
        {
            self.terminals.push([x, y]);
            self.wires.push(Segment { wire, ends: [[x, y], [226.0, y]] });
            self.text([x + 26.0, y - 6.0], Anchor::Middle, sign);
            self.touch(lead, [x - 84.0, y], [x, y]);
        }
        self.boxes.push([[226.0, 40.0], [92.0, 104.0]]);
        self.text([272.0, 96.0], Anchor::Middle, guide::TO_BOX);
        let coils = tree.coils().len();
        let behind = guide::joined(coils, &tree.to_string());
        // A long wiring would run out of the picture; the diagram has it.
        let behind = if behind.chars().count() > 44 { guide::joined(coils, "…") } else { behind };
        self.text([MIDDLE[0], 166.0], Anchor::Middle, &behind);
        self.legend();
    }

    /// A driver from behind, the probes on one of its coils; wires only where they stay on.
    fn driver(&mut self, tree: &Tree, id: CoilId, joined: bool) {
        let coils: Vec<CoilId> = tree.coils().into_iter().filter(|other| other.driver == id.driver).collect();
        // The highest letter in use tells how many terminals the basket has.
        let count = coils.iter().map(|other| usize::from(other.coil) + 1).max().unwrap_or(1);
        self.rings.extend([(MIDDLE, BASKET), (MIDDLE, MAGNET)]);
        self.text([MIDDLE[0], 12.0], Anchor::Middle, &guide::driver(&(u16::from(id.driver) + 1).to_string()));
        if joined {
            self.jumpers(tree, id.driver, count);
        }
        for coil in &coils {
            for (polarity, sign) in [(Polarity::Plus, "+"), (Polarity::Minus, "−")] {
                let [x, y] = terminal_at(count, coil.coil, polarity);
                self.terminals.push([x, y]);
                let left = x < MIDDLE[0];
                let name = format!("{coil}\u{a0}{sign}");
                // Outside the basket, clear of the wire that leaves there.
                let (dx, anchor) = if left { (-8.0, Anchor::End) } else { (8.0, Anchor::Start) };
                let dy = if polarity == Polarity::Plus { -7.0 } else { 18.0 };
                self.text([x + dx, y + dy], anchor, &name);
            }
        }
        for (lead, polarity) in [(Lead::Red, Polarity::Plus), (Lead::Black, Polarity::Minus)] {
            let point = terminal_at(count, id.coil, polarity);
            let inwards = if point[0] < MIDDLE[0] { 34.0 } else { -34.0 };
            self.touch(lead, [point[0] + inwards, point[1]], point);
        }
        self.legend();
    }

    /// Jumpers within the driver, and short ends of the wires that leave it with where they go.
    fn jumpers(&mut self, tree: &Tree, driver: u8, count: usize) {
        let connections = tree.connections();
        let last = connections.nets.len().saturating_sub(1);
        let place = |terminal: Terminal| match terminal {
            Terminal::Coil(id, polarity) if id.driver == driver => {
                Some(terminal_at(count, id.coil, polarity))
            }
            _ => None,
        };
        for step in &connections.steps {
            let net = connections.nets.iter().position(|net| net.terminals.contains(&step.from)).unwrap_or(0);
            let wire = match net {
                0 => Wire::Plus,
                net if net == last => Wire::Minus,
                _ => Wire::Between,
            };
            match (place(step.from), place(step.to)) {
                (Some(from), Some(to)) => self.wires.push(Segment { wire, ends: [from, to] }),
                (Some(at), None) => self.leaving(wire, at, step.to),
                (None, Some(at)) => self.leaving(wire, at, step.from),
                (None, None) => {}
            }
        }
    }

    fn leaving(&mut self, wire: Wire, at: [f64; 2], to: Terminal) {
        let out = if at[0] < MIDDLE[0] { -42.0 } else { 42.0 };
        let end = [at[0] + out, at[1]];
        // Two wires that leave one terminal share the drawn end; each names its target.
        let name = match to {
            Terminal::LinePlus => format!("{} +", guide::TO_AMPLIFIER),
            Terminal::LineMinus => format!("{} −", guide::TO_AMPLIFIER),
            Terminal::Coil(id, Polarity::Plus) => format!("{id} +"),
            Terminal::Coil(id, Polarity::Minus) => format!("{id} −"),
        };
        let shared = self.wires.iter().any(|segment| segment.ends == [at, end]);
        let (dx, anchor) = if out < 0.0 { (-3.0, Anchor::End) } else { (3.0, Anchor::Start) };
        // The second target stands above the plus wire or below the minus wire.
        let second = if at[1] < MIDDLE[1] { -11.0 } else { 21.0 };
        if shared {
            self.text([end[0] + dx, end[1] + second], anchor, &name);
            return;
        }
        self.wires.push(Segment { wire, ends: [at, end] });
        self.text([end[0] + dx, end[1] + 5.0], anchor, &name);
    }
}

/// What the drawing says, for those who can't see it.
#[must_use]
pub fn in_words(spot: Spot, at_amplifier: bool) -> String {
    let ask = super::meter::ask(spot, at_amplifier);
    match spot {
        Spot::Leads => ask,
        Spot::Line | Spot::At(Probe::BoxTerminals) => format!("{ask} {}", guide::EITHER_WAY),
        Spot::At(Probe::AcrossCoil(id) | Probe::CoilAlone(id)) => {
            let name = id.to_string();
            format!(
                "{ask} {}: {}; {}: {}.",
                guide::RED,
                table::coil_terminal(&name, "+"),
                guide::BLACK,
                table::coil_terminal(&name, "−")
            )
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::electrical::wiring::balanced;

    #[test]
    fn every_coil_of_every_wiring_can_be_probed_inside_the_picture() {
        for (drivers, coils) in [(1, 1), (1, 2), (1, 4), (2, 2), (3, 1), (8, 2), (8, 4)] {
            for wiring in balanced(drivers, coils).unwrap() {
                for id in wiring.tree.coils() {
                    for probe in [Probe::AcrossCoil(id), Probe::CoilAlone(id)] {
                        let drawing = draw(&wiring.tree, Spot::At(probe), true);
                        let inside =
                            |[x, y]: [f64; 2]| (0.0..=WIDTH).contains(&x) && (0.0..=HEIGHT).contains(&y);
                        assert_eq!(drawing.leads.len(), 2);
                        assert_eq!(drawing.terminals.len(), 2 * usize::from(coils));
                        assert!(drawing.leads.iter().all(|(_, at)| inside(*at)));
                        assert!(drawing.wires.iter().all(|wire| wire.ends.iter().all(|end| inside(*end))));
                        // The red lead touches the coil's plus, the black one its minus.
                        let ends = [Polarity::Plus, Polarity::Minus]
                            .map(|polarity| terminal_at(usize::from(coils), id.coil, polarity));
                        let touched: Vec<[f64; 2]> = drawing.tips.iter().map(|[_, point]| *point).collect();
                        assert_eq!(touched, ends);
                    }
                }
            }
        }
    }

    // One driver, two coils in series: one jumper on the basket, two wires that leave it for the line.
    #[test]
    fn jumpers_follow_the_tree() {
        let tree: Tree = "1A-1B".parse().unwrap();
        let id = CoilId { driver: 0, coil: 0 };
        let drawing = draw(&tree, Spot::At(Probe::AcrossCoil(id)), true);
        let between: Vec<_> = drawing.wires.iter().filter(|w| w.wire == Wire::Between).collect();
        assert_eq!(between.len(), 1);
        assert_eq!(between[0].ends, [terminal_at(2, 0, Polarity::Minus), terminal_at(2, 1, Polarity::Plus)]);
        assert_eq!(drawing.wires.len(), 3);
        assert!(draw(&tree, Spot::At(Probe::CoilAlone(id)), true).wires.is_empty());
    }
}
