//! A sweep heard through this phone's microphone: three takes, or what is wrong with them.
use std::cell::RefCell;
use std::rc::Rc;

use yew::prelude::*;

use super::{choice_row, key, on_choice};
use crate::model::measurement::{
    Collector, LEAST_RATE_HZ, NextStep, SWEEP_SECONDS, Sweep, SweepFault, SweepTake, read_sweeps,
};
use crate::platform::microphone::{Microphone, MicrophoneError, Sound};
use crate::platform::{Timeout, files, page, spawn_local};
use crate::present::sweep as text;
use crate::view::components::{NoteKind, caution, note, tx};
use crate::words::sweep as words;

/// How much longer than the file the page listens, for the hand that starts the player, s.
const LATE_S: f64 = 15.0;
/// The same where the phone plays by itself, s.
const OWN_LATE_S: f64 = 2.0;
/// Levels at which the phone plays by itself, dB: from quiet, 6 dB a take.
const OWN_LEVELS_DB: [f64; 8] = [-40.0, -34.0, -28.0, -22.0, -16.0, -10.0, -5.0, 0.0];

#[derive(Properties, PartialEq)]
pub(super) struct PanelProps {
    /// The sound pressure level of 0 dB, where it is known.
    pub(super) full_scale_db: Option<f64>,
    /// Told of takes that may be kept, and of their end.
    pub(super) heard: Callback<Option<Rc<HeardSweep>>>,
}

/// Takes that may be kept, with the recording they came from.
#[derive(PartialEq)]
pub(super) struct HeardSweep {
    pub(super) curves_db: Vec<Vec<f64>>,
    pub(super) rate_hz: f64,
    pub(super) samples: Vec<f32>,
}

/// What goes on.
#[derive(Clone, PartialEq)]
enum Phase {
    Idle,
    Asking,
    /// Seconds heard, and how many there will be.
    Listening(u32, u32),
    Working,
    Done(Rc<SweepTake>),
    Failed(String),
}

/// What is alive while the microphone listens.
struct Live {
    /// Whether a microphone that is still being opened is wanted.
    wanted: bool,
    microphone: Option<Microphone>,
    collector: Option<Collector>,
    _hidden: Option<page::Listeners>,
}

type LiveCell = Rc<RefCell<Live>>;

/// Everything ends: the sound, the microphone, the screen's wakefulness.
fn end(live: &LiveCell) -> Option<Collector> {
    let mut live = live.try_borrow_mut().ok()?;
    live.wanted = false;
    live._hidden = None;
    live.microphone = None;
    live.collector.take()
}

/// Length, file, start, what was heard.
#[component]
pub(super) fn SweepPanel(props: &PanelProps) -> Html {
    let length = use_state_eq(|| 1_usize);
    let own = use_state_eq(|| 0_usize);
    let phase = use_state_eq(|| Phase::Idle);
    let live: LiveCell = use_memo((), |()| {
        RefCell::new(Live { wanted: false, microphone: None, collector: None, _hidden: None })
    });
    {
        let live = live.clone();
        use_effect_with((), move |()| move || drop(end(&live)));
    }
    let seconds = SWEEP_SECONDS.get(*length).copied().unwrap_or(10);
    let sweep = Sweep::new(f64::from(seconds));
    let own_level = own.checked_sub(1).and_then(|at| OWN_LEVELS_DB.get(at)).copied();
    let choose = |state: &UseStateHandle<usize>| {
        let state = state.clone();
        on_choice(move |at| state.set(at))
    };
    let lengths: Vec<String> = SWEEP_SECONDS.iter().map(|s| words::seconds(*s)).collect();
    let mut players = vec![words::OTHER_PLAYER.to_owned()];
    players.extend(OWN_LEVELS_DB.iter().map(|db| words::own_player(-*db as u32)));
    let start = {
        let (phase, live, heard) = (phase.clone(), live.clone(), props.heard.clone());
        Callback::from(move |_: MouseEvent| start(&phase, &live, &heard, sweep, own_level))
    };
    let save = {
        let phase = phase.clone();
        Callback::from(move |_: MouseEvent| {
            if files::save_bytes(&words::file_name(seconds), "audio/wav", &sweep.wav()).is_err() {
                phase.set(Phase::Failed(words::SAVE_FAILED.into()));
            }
        })
    };
    let stop = {
        let (phase, live) = (phase.clone(), live.clone());
        Callback::from(move |_: MouseEvent| {
            drop(end(&live));
            phase.set(Phase::Failed(words::STOPPED.into()));
        })
    };
    let wants_more = matches!(&*phase, Phase::Done(take) if take.takes.count > 0 && take.next_step(f64::from(seconds), props.full_scale_db) == NextStep::Louder);
    // The key only where this phone plays; another player's volume is set by hand.
    let louder = (wants_more && *own > 0 && *own < OWN_LEVELS_DB.len()).then(|| {
        let (own, phase) = (own.clone(), phase.clone());
        Callback::from(move |_: MouseEvent| {
            own.set(*own + 1);
            phase.set(Phase::Idle);
        })
    });
    let busy = matches!(*phase, Phase::Asking | Phase::Listening(..) | Phase::Working);
    html! {
        <div class="sweep">
            { caution(words::CAUTION) }
            { tx("p", "small", words::HOW) }
            { choice_row(words::LENGTH, &lengths, *length, choose(&length)) }
            { choice_row(words::PLAYER, &players, *own, choose(&own)) }
            if own_level.is_none() { <div class="keys">{ key(words::SAVE, "key", save) }</div> }
            if !busy { <div class="keys">{ key(words::START, "key", start) }</div> }
            <div aria-live="polite">{ shown(&phase, seconds, props.full_scale_db) }</div>
            if let Some(louder) = louder { <div class="keys">{ key(words::SIX_LOUDER, "key", louder) }</div> }
            if busy {
                <button type="button" class="stopkey" onclick={stop}>{ words::STOP }</button>
            }
        </div>
    }
}

fn shown(phase: &Phase, seconds: u8, full_scale_db: Option<f64>) -> Html {
    match phase {
        Phase::Idle => tx("p", "small", words::MICROPHONE_ABOUT),
        Phase::Asking => tx("p", "", words::ASKING),
        Phase::Listening(at, of) => tx("p", "", &words::listening(*at, *of)),
        Phase::Working => tx("p", "", words::WORKING),
        Phase::Failed(why) => note(NoteKind::Care, why),
        Phase::Done(take) => done(take, seconds, full_scale_db),
    }
}

#[inline(never)]
fn done(take: &SweepTake, seconds: u8, full_scale_db: Option<f64>) -> Html {
    let kind = |fault: &SweepFault| if fault.spoils() { NoteKind::Stop } else { NoteKind::Care };
    let faults = take.faults.iter().map(|fault| note(kind(fault), &text::fault(*fault)));
    let next = take.next_step(f64::from(seconds), full_scale_db);
    html! {
        <>
            { for faults }
            if take.sound() {
                { note(NoteKind::Good, &text::heard(take)) }
            }
            if let Some(next) = text::next_step(next).filter(|_| take.takes.count > 0) { { tx("p", "small", &next) } }
        </>
    }
}

fn failure(error: &MicrophoneError) -> String {
    match error {
        MicrophoneError::Unavailable => words::UNAVAILABLE.into(),
        MicrophoneError::Refused => words::REFUSED.into(),
        MicrophoneError::None => words::NO_MICROPHONE.into(),
        MicrophoneError::Processed(names) => words::processed(names),
        MicrophoneError::Gap => words::SAMPLES_MISSING.into(),
        MicrophoneError::Lost => words::LOST.into(),
        MicrophoneError::Changed => words::CHANGED.into(),
        MicrophoneError::Other(said) => words::other(said),
    }
}

/// Opens the microphone and listens until all is played, it is stopped, or something goes wrong.
fn start(
    phase: &UseStateHandle<Phase>,
    live: &LiveCell,
    heard: &Callback<Option<Rc<HeardSweep>>>,
    sweep: Sweep,
    own_level_db: Option<f64>,
) {
    let needed_s = sweep.played_s() + if own_level_db.is_some() { OWN_LATE_S } else { LATE_S };
    if let Ok(mut live) = live.try_borrow_mut() {
        live.wanted = true;
    }
    heard.emit(None);
    phase.set(Phase::Asking);
    let on_sound = {
        let (phase, live, heard) = (phase.clone(), live.clone(), heard.clone());
        let shown = Rc::new(std::cell::Cell::new(u32::MAX));
        move |sound: Sound| match sound {
            Sound::Failed(why) => {
                // Also before the first sample, while the rest is still being set up.
                let wanted = live.try_borrow().is_ok_and(|live| live.wanted);
                drop(end(&live));
                if wanted {
                    phase.set(Phase::Failed(failure(&why)));
                }
            }
            Sound::Samples(block) => {
                let now = {
                    let Ok(mut live) = live.try_borrow_mut() else { return };
                    let Some(collector) = live.collector.as_mut() else { return };
                    collector.push(&block);
                    collector.seconds()
                };
                if now >= needed_s {
                    if let Some(collector) = end(&live) {
                        work_out(&phase, &heard, collector, sweep);
                    }
                } else if shown.replace(now as u32) != now as u32 {
                    phase.set(Phase::Listening(now as u32, needed_s as u32));
                }
            }
        }
    };
    let (phase, live) = (phase.clone(), live.clone());
    spawn_local(async move {
        let opened = Microphone::listen(on_sound).await;
        let mut microphone = match opened {
            Ok(microphone) => microphone,
            Err(error) => return phase.set(Phase::Failed(failure(&error))),
        };
        if !live.try_borrow().is_ok_and(|live| live.wanted) {
            // Stopped while the browser asked.
            return;
        }
        let rate = microphone.rate_hz();
        if rate < LEAST_RATE_HZ {
            return phase.set(Phase::Failed(text::fault(SweepFault::Rate(rate))));
        }
        if let Some(level_db) = own_level_db {
            let gain = 10_f64.powf(level_db / 20.0);
            let samples: Vec<f32> = sweep.played(rate).iter().map(|x| (gain * x) as f32).collect();
            if let Err(error) = microphone.play(&samples) {
                return phase.set(Phase::Failed(failure(&error)));
            }
        }
        let hidden = {
            let (phase, live) = (phase.clone(), live.clone());
            page::on_hidden(move || {
                if end(&live).is_some() {
                    phase.set(Phase::Failed(words::HIDDEN.into()));
                }
            })
        };
        if let Ok(mut live) = live.try_borrow_mut() {
            live.collector = Some(Collector::new(rate));
            live.microphone = Some(microphone);
            live._hidden = hidden;
        }
        phase.set(Phase::Listening(0, needed_s as u32));
    });
}

/// Works out the takes after the screen has said so.
fn work_out(
    phase: &UseStateHandle<Phase>,
    heard: &Callback<Option<Rc<HeardSweep>>>,
    collector: Collector,
    sweep: Sweep,
) {
    phase.set(Phase::Working);
    let (phase, heard) = (phase.clone(), heard.clone());
    Timeout::new(60, move || {
        let collected = collector.finish();
        let take = Rc::new(read_sweeps(&collected, sweep));
        if take.sound() {
            heard.emit(Some(Rc::new(HeardSweep {
                curves_db: take.curves_db.clone(),
                rate_hz: collected.rate_hz,
                samples: collected.samples.iter().map(|x| *x as f32).collect(),
            })));
        }
        phase.set(Phase::Done(take));
    })
    .forget();
}
