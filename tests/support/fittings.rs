//! Fittings for boxes at random.
use kerf_and_coil::model::geometry::edges::BACK;
use kerf_and_coil::model::geometry::{
    Axis, BoxSpec, CornerStrips, HoleShape, InsideEdge, MeasuredStripFace, Port, RoundPort, SlotPort,
    SlotWidth, StripVoids, TerminalHole, Window, WindowBrace,
};
use kerf_and_coil::units::ExactLength;

fn mm(value: f64) -> ExactLength {
    ExactLength::from_millimetres(value)
}

/// What is fitted, by numbers that a strategy draws.
pub struct Fittings {
    /// None, upright ones, all.
    pub strips: u8,
    /// Their face, mm.
    pub face: i32,
    /// None, a tube, a slot over the whole width, a slot against a side, one that bends once, one that bends twice.
    pub port: u8,
    /// None, or one across depth, width, height.
    pub brace: u8,
    /// Whether there is a terminal cup.
    pub terminal: bool,
}

impl Fittings {
    /// Fits them to a box of 18 mm board.
    pub fn put_into(&self, spec: &mut BoxSpec) {
        let edges = [Vec::new(), InsideEdge::vertical().to_vec(), InsideEdge::all()];
        spec.strips = (self.strips > 0).then(|| CornerStrips {
            edges: edges[usize::from(self.strips)].clone(),
            face: mm(self.face.into()),
            measured: MeasuredStripFace::Wide,
            length: None,
            voids: StripVoids::Sealed,
        });
        spec.port = match self.port {
            0 => Port::None,
            1 => Port::Round(RoundPort {
                count: 1,
                diameter: mm(75.0),
                wall: mm(3.0),
                length: mm(160.0),
                centres: Vec::new(),
            }),
            2 => {
                Port::Slot(SlotPort { height: mm(40.0), length: mm(200.0), width: SlotWidth::Full, bends: 0 })
            }
            4 | 5 => {
                let [height, depth] =
                    [spec.outside.height, spec.outside.depth].map(|size| size.millimetres());
                // By geometry.md section 5: a third of the height up, or all of it and 70 mm forward.
                let back = if self.port == 4 { height / 3.0 } else { height - 36.0 - 35.0 + 70.0 };
                let length = mm((depth - 18.0 + back).round());
                Port::Slot(SlotPort {
                    height: mm(35.0),
                    length,
                    width: SlotWidth::Full,
                    bends: self.port - 3,
                })
            }
            _ => Port::Slot(SlotPort {
                height: mm(50.0),
                length: mm(180.0),
                width: SlotWidth::AgainstSide(mm(150.0)),
                bends: 0,
            }),
        };
        spec.terminal = self.terminal.then(|| TerminalHole {
            face: BACK,
            window: None,
            shape: HoleShape::Rectangle(Window::new(mm(80.0), mm(60.0), mm(5.0))),
            cup_depth: mm(55.0),
            cup_volume: None,
            centre: None,
        });
        let [w, h, d] =
            [spec.outside.width, spec.outside.height, spec.outside.depth].map(|size| size.millimetres());
        let inside = [d - 18.0 * (f64::from(spec.front_layers) + 1.0), w - 36.0, h - 36.0];
        let across =
            [None, Some(Axis::Depth), Some(Axis::Width), Some(Axis::Height)][usize::from(self.brace)];
        if let Some(across) = across {
            let less = if self.port > 3 { 200.0 } else { 120.0 };
            let [a, b] = across.others().map(|axis| inside[axis.index()] - less);
            spec.braces = vec![WindowBrace { count: 1, across, window: Window::new(mm(a), mm(b), mm(40.0)) }];
        }
    }
}
