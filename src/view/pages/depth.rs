//! The desk's depth: coil, losses, floor, filters, cabin, ceiling, further curves, pictures to save.
use std::cell::OnceCell;
use std::rc::Rc;

use yew::prelude::*;

use crate::design::limits::FieldId;
use crate::design::report::{LoudReport, SoundReport};
use crate::platform::canvas::picture;
use crate::platform::files;
use crate::present::ceiling::{floor as floor_rows, heat, sentence, stretches};
use crate::present::chart::{Chart, Sheet, draw, to_csv};
use crate::present::charts;
use crate::present::unequal::unequal;
use crate::view::components::{Fold, el, fields, pairs, tx};
use crate::view::store::{Handle, Msg};
use crate::words::{acoustics as words, keep, page, unequal as uneven};

const COIL: &[FieldId] = &[FieldId::CoilModel];
const COIL_TWO: &[FieldId] = &[FieldId::SecondInductance, FieldId::SecondResistance];
const COIL_POWER: &[FieldId] = &[FieldId::CoilFactor, FieldId::CoilExponent];
const COIL_SEMI: &[FieldId] = &[FieldId::OuterInductance, FieldId::SemiInductance, FieldId::ShuntResistance];
const HEAT: &[FieldId] = &[FieldId::ThermalResistance, FieldId::ThermalTime];
const LEAKS: &[FieldId] = &[FieldId::Leakage, FieldId::Absorption];
const STUFFING: &[FieldId] = &[FieldId::Stuffing];
const PORT: &[FieldId] = &[FieldId::PortLoss, FieldId::PortEnds];
const AIR: &[FieldId] = &[FieldId::AirTemperature, FieldId::Altitude];
const FLARE: &[FieldId] = &[FieldId::FlareRadius];
const FRONT_ENDS: &[FieldId] = &[FieldId::FrontPortEnds];
const FRONT_FLARE: &[FieldId] = &[FieldId::FrontFlareRadius];
const FLOOR: &[FieldId] = &[FieldId::FloorGap, FieldId::FloorWindows];
const HIGH_PASS: &[FieldId] = &[FieldId::HighPass, FieldId::HighSlope];
const LOW_PASS: &[FieldId] = &[FieldId::LowPass, FieldId::LowSlope];
const BANDS: &[FieldId] =
    &[FieldId::BandGain, FieldId::BandAt, FieldId::BandQ, FieldId::ShelfGain, FieldId::ShelfAt];
const CABIN: &[FieldId] =
    &[FieldId::CabinLength, FieldId::CabinCorner, FieldId::CabinLeak, FieldId::CabinBody];

/// A fold whose inside is made by a function of the store.
fn fold(store: &Handle, title: &'static str, inside: impl Fn(&Handle) -> Vec<Html> + 'static) -> Html {
    let store = store.clone();
    let content = Callback::from(move |()| el("div", &[], inside(&store)));
    html! { <Fold {title} {content} /> }
}

/// Coil model and heat.
pub(super) fn coil(store: &Handle) -> Html {
    fold(store, words::COIL_FOLD, |store| {
        let more: &[FieldId] = match store.design().sheet.choice_key(FieldId::CoilModel) {
            "two inductances" => COIL_TWO,
            "power" => COIL_POWER,
            "semi" => COIL_SEMI,
            _ => &[],
        };
        vec![
            fields(store, COIL),
            fields(store, more),
            tx("p", "about", words::COIL_ABOUT),
            fields(store, HEAT),
        ]
    })
}

/// Losses, stuffing, port ends and air.
pub(super) fn losses(store: &Handle) -> Html {
    fold(store, page::LOSSES, |store| {
        let sheet = &store.design().sheet;
        let flared = |id| matches!(sheet.choice_key(id), "flared" | "flared outside");
        let kind = sheet.choice_key(FieldId::BoxKind);
        let two = matches!(kind, "bandpass 6 outward" | "bandpass 6 inward");
        // What fills a chamber counts as its losses where that is tuned, and as more air where it is closed.
        let filled = matches!(kind, "closed" | "bandpass 4" | "push-pull");
        let ported = two || matches!(kind, "vented" | "bandpass 4");
        let shown = |wanted, ids: &'static [FieldId]| fields(store, if wanted { ids } else { &[] });
        let many = |id| sheet.choice_key(id).parse::<u8>().is_ok_and(|count| count > 1);
        let several = many(FieldId::PortCount) || many(FieldId::FrontPortCount);
        vec![
            shown(kind != "infinite baffle", LEAKS),
            shown(filled, STUFFING),
            shown(ported, PORT),
            fields(store, AIR),
            if several && ported { tx("p", "about", words::SEVERAL_PORTS) } else { Html::default() },
            shown(ported && flared(FieldId::PortEnds), FLARE),
            shown(two, FRONT_ENDS),
            shown(two && flared(FieldId::FrontPortEnds), FRONT_FLARE),
        ]
    })
}

/// A driver that fires at the floor.
pub(super) fn floor(store: &Handle) -> Html {
    fold(store, words::DOWN_FOLD, |store| {
        let rows = sound_of(store).map_or_else(Vec::new, |sound| floor_rows(sound, &store.prefs));
        vec![fields(store, FLOOR), if rows.is_empty() { Html::default() } else { pairs(&rows) }]
    })
}

/// The filters.
pub(super) fn path(store: &Handle) -> Html {
    fold(store, words::PATH, |store| {
        // A slope without a corner says nothing.
        let shown = |ids: &'static [FieldId]| match ids {
            [corner, ..] if store.design().sheet.given(*corner).is_none() => ids.get(..1).unwrap_or(ids),
            _ => ids,
        };
        vec![fields(store, shown(HIGH_PASS)), fields(store, shown(LOW_PASS)), fields(store, BANDS)]
    })
}

/// The cabin.
pub(super) fn cabin(store: &Handle) -> Html {
    fold(store, words::CABIN_FOLD, |store| vec![fields(store, CABIN), tx("p", "about", words::CABIN_ABOUT)])
}

fn sound_of(store: &Handle) -> Option<&Rc<SoundReport>> {
    store.report.sound.as_ref().ok()
}

fn loud_of(store: &Handle) -> Option<(&SoundReport, &LoudReport)> {
    store.report.sound.as_deref().ok().zip(store.report.loud.as_deref().ok())
}

/// What gives first at the bottom, in a sentence; nothing while it is not worked out.
#[inline(never)]
pub(super) fn first_limit(store: &Handle) -> Html {
    let told = loud_of(store).map_or_else(String::new, |(_, loud)| sentence(loud));
    tx("p", "first", &told)
}

/// Charts that only folds show: worked out once for all open folds, and not while none is open.
pub(super) struct Later {
    store: Handle,
    ceiling: OnceCell<Option<Rc<Chart>>>,
    more: OnceCell<Vec<Rc<Chart>>>,
}

impl Later {
    pub(super) fn new(store: &Handle) -> Rc<Self> {
        Rc::new(Self { store: store.clone(), ceiling: OnceCell::new(), more: OnceCell::new() })
    }

    fn ceiling(&self) -> Option<&Rc<Chart>> {
        let chart = || loud_of(&self.store).and_then(|(sound, loud)| charts::of_ceiling(sound, loud));
        self.ceiling.get_or_init(|| chart().map(Rc::new)).as_ref()
    }

    /// Power and current, signal path, step.
    pub(super) fn more(&self) -> &[Rc<Chart>] {
        let charts = || loud_of(&self.store).map(|(sound, loud)| charts::more_of_sound(sound, loud));
        self.more.get_or_init(|| charts().into_iter().flatten().map(Rc::new).collect())
    }
}

/// What gives first: chart, stretches, heat.
pub(super) fn ceiling(later: &Later, view: &impl Fn(&Rc<Chart>) -> Html) -> Html {
    let Some((_, loud)) = loud_of(&later.store) else { return Html::default() };
    let mut parts: Vec<Html> = later.ceiling().map(view).into_iter().collect();
    parts.push(pairs(&stretches(loud)));
    parts.push(pairs(&heat(loud)));
    if loud.heat.warming_k.is_none() {
        parts.push(tx("p", "about", words::HEAT_UNKNOWN));
    }
    el("div", &[], parts)
}

/// What an unequal wiring comes to: the consequence, and in a fold each driver by itself.
#[inline(never)]
pub(super) fn unequal_shares(store: &Handle, view: impl Fn(&Rc<Chart>) -> Html + 'static) -> Html {
    let both = sound_of(store).zip(store.report.wiring.as_deref().ok());
    let Some(found) = both.and_then(|(sound, wiring)| unequal(sound, wiring)) else { return Html::default() };
    let sentence = tx("p", "first", &found.sentence);
    let (rows, chart) = (found.rows, Rc::new(found.chart));
    let store = store.clone();
    let content = Callback::from(move |()| {
        let rows = el("ul", &[], rows.iter().map(|row| tx("li", "", row)).collect());
        el("div", &[], vec![view(&chart), rows, tx("p", "about", uneven::ABOUT), save_row(&store, &chart)])
    });
    html! { <>{ sentence }<Fold title={uneven::FOLD} {content} /></> }
}

/// Width and height of a saved picture, CSS pixels.
const PICTURE: (f64, f64) = (800.0, 450.0);

/// Every chart as SVG, PNG and CSV.
pub(super) fn save(store: &Handle, drawn: &Rc<[Rc<Chart>]>, later: &Rc<Later>) -> Html {
    let (drawn, later) = (Rc::clone(drawn), Rc::clone(later));
    fold(store, words::SAVE_FOLD, move |store| {
        let all = drawn.iter().chain(later.ceiling()).chain(later.more());
        all.map(|chart| save_row(store, chart)).collect()
    })
}

pub(super) fn save_row(store: &Handle, chart: &Rc<Chart>) -> Html {
    let key = |kind: &'static str| {
        let (store, chart) = (store.clone(), Rc::clone(chart));
        let label = words::save_as(kind, &chart.title);
        let onclick = Callback::from(move |_: MouseEvent| {
            if write(&chart, kind).is_err() {
                store.dispatch(Msg::Tell(keep::EXPORT_FAILED.into()));
            }
        });
        html! { <button type="button" class="key" aria-label={label} {onclick}>{ kind }</button> }
    };
    let keys = vec![key(words::AS_SVG), key(words::AS_PNG), key(words::AS_CSV)];
    el("div", &[("class", "saves")], vec![tx("p", "", &chart.title), el("div", &[("class", "keys")], keys)])
}

fn write(chart: &Chart, kind: &str) -> Result<(), files::FileError> {
    let name = format!("kerf-and-coil-{}.{}", chart.key, kind.to_ascii_lowercase());
    if kind == words::AS_CSV {
        return files::save(&name, "text/csv", &to_csv(&[chart]));
    }
    let found = picture(PICTURE.0, PICTURE.1, |area, units| {
        let units = f64::from(units);
        // Always by day: a saved picture is for paper.
        let _ = draw(area, chart, &Sheet::day(14.0 * units, units), None);
    });
    let refused = || files::FileError::Refused(String::new());
    let found = found.ok_or_else(refused)?;
    if kind == words::AS_SVG {
        files::save(&name, "image/svg+xml", &found.svg)
    } else {
        files::save_held(&name, &found.png)
    }
}
