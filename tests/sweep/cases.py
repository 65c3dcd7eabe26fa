"""What a microphone would record of a played file, made by scipy, for tests/sweep.rs.

    python cases.py FILE.wav SET    # recordings on the standard output

Each recording is a line `name rate count truth…` followed by `count` 32-bit floats. The truth is the level of the known
filter at the 40 points of a trial: power over a sixth-octave, even weight over log f (IEC 61260-1:2014: G = 10^0.3,
points 1000·G^((2x+1)/24)), relative to the file's samples.
"""
import sys

import numpy as np
from scipy import interpolate, io, signal

G = 10**0.3
POINTS = [f for x in range(-69, 0) if 20 <= (f := 1000 * G ** ((2 * x + 1) / 24)) <= 200]


def cabin(rate, seed=1):
    """A closed box's roll-off, a cabin's rise and a few peaks and dips, all sections of second order."""
    rng = np.random.default_rng(seed)
    sections = [signal.butter(2, 38 + 8 * rng.random(), "highpass", fs=rate, output="sos")]
    for hz in (31 + 6 * rng.random(), 55 + 10 * rng.random(), 110 + 30 * rng.random()):
        sections.append(peaking(rate, hz, rng.choice([-8, -5, 5, 8]), 2 + 2 * rng.random()))
    return np.vstack(sections)


def peaking(rate, hz, db, q):
    """The bilinear form of (s² + sA/Q + 1)/(s² + s/(AQ) + 1)."""
    a, w = 10 ** (db / 40), 2 * np.pi * hz
    b, d = signal.bilinear([1, w * a / q, w * w], [1, w / (a * q), w * w], fs=rate)
    return signal.tf2sos(b, d)


def truth(sos, rate):
    levels = []
    for middle in POINTS:
        f = np.geomspace(middle * G ** (-1 / 12), middle * G ** (1 / 12), 801)
        _, h = signal.sosfreqz(sos, f, fs=rate)
        levels.append(10 * np.log10(np.trapezoid(np.abs(h) ** 2, np.log(f)) / np.log(f[-1] / f[0])))
    return levels


def put(name, rate, samples, levels):
    head = " ".join([name, str(rate), str(len(samples)), *(f"{x:.6f}" for x in levels)])
    sys.stdout.buffer.write(head.encode() + b"\n" + samples.astype("<f4").tobytes())


def padded(played, rate, before, after):
    return np.concatenate([np.zeros(round(before * rate)), played, np.zeros(round(after * rate))])


def noise_of(length, rms, rng, rate):
    """Noise as in a parked car: louder towards the bass, 3 dB an octave over 10 Hz."""
    white = np.fft.rfft(rng.standard_normal(length))
    f = np.fft.rfftfreq(length, 1 / rate)
    shaped = np.fft.irfft(white / np.sqrt(np.maximum(f, 10)), length)
    return shaped * rms / np.sqrt(np.mean(shaped**2))


def main():
    rate, raw = io.wavfile.read(sys.argv[1])
    assert raw.dtype == np.int16 and raw.ndim == 1
    played = raw / 32767
    sos = cabin(rate)
    levels = truth(sos, rate)
    heard = 0.6 * signal.sosfilt(sos, padded(played, rate, 1.2345, 1.0))
    levels = [x + 20 * np.log10(0.6) for x in levels]
    rng = np.random.default_rng(7)
    quiet = noise_of(len(heard), 1e-5, rng, rate)
    if sys.argv[2] == "known":
        put("plain", rate, heard + quiet, levels)
        wire = signal.butter(1, 1.0, "highpass", fs=rate, output="sos")
        dry = 0.6 * signal.sosfilt(wire, padded(played, rate, 0.2, 0.5))
        wired = [x + 20 * np.log10(0.6) for x in truth(wire, rate)]
        put("wire", rate, dry + noise_of(len(dry), 1e-5, rng, rate), wired)
        put("sixteen-bit", rate, np.round(heard * 32767) / 32767, levels)
        put("negative", rate, -heard + quiet, levels)
        late = np.concatenate([np.zeros(round(3.21 * rate)), heard])
        put("late", rate, late + noise_of(len(late), 1e-5, rng, rate), levels)
        slow = signal.resample_poly(heard, 147, 160)
        put("at-44100", 44100, slow + noise_of(len(slow), 1e-5, rng, 44100), levels)
        line = interpolate.CubicSpline(np.arange(len(heard)) / rate, heard)
        for ppm in (-500, -100, 100, 500, 1000):
            at = np.arange(len(heard)) / rate * (1 + ppm * 1e-6)
            put(f"drift{ppm}", rate, line(np.minimum(at, (len(heard) - 1) / rate)) + quiet, levels)
    elif sys.argv[2] == "faults":
        top = np.max(np.abs(heard))
        put("clipped", rate, np.clip(heard / top * 1.4, -1, 1), levels)
        put("clipped-low", rate, np.clip(heard, -0.7 * top, 0.7 * top) + 0 * quiet, levels)
        # x + k·x³ brings a third harmonic of k·a²/4 against the fundamental.
        scaled = heard / top
        put("overloaded", rate, 0.5 * (scaled - 0.5 * scaled**3) + quiet, levels)
        put("near-overload", rate, 0.5 * (scaled - 0.12 * scaled**3) + quiet, levels)
        put("noisy", rate, heard + noise_of(len(heard), 0.04, rng, rate), levels)
        put("only-noise", rate, noise_of(len(heard), 0.05, rng, rate), levels)
        slow = signal.resample_poly(heard, 1, 3)
        put("hands-free", rate // 3, slow, levels)
        middle = round((1.2345 + 8 + 0.7 * 5) * rate)
        put("gap", rate, np.delete(heard + quiet, slice(middle, middle + 4096)), levels)
        ride = np.interp(np.arange(len(heard)) / rate, [0, 9, 25], [0, 0, 1.5])
        put("level-drift", rate, heard * 10 ** (ride / 20) + quiet, levels)
        # A gain control that takes half of every change of level away.
        env = np.sqrt(signal.sosfilt(signal.butter(1, 0.5, fs=rate, output="sos"), heard**2).clip(1e-6))
        put("gain-control", rate, 0.3 * heard / np.sqrt(env), levels)
        put("cut-short", rate, (heard + quiet)[: round(16 * rate)], levels)
        put("no-silence", rate, (heard + quiet)[round((1.2345 + 7.2) * rate):], levels)
    else:
        for seed in range(int(sys.argv[3])):
            rng = np.random.default_rng(1000 + seed)
            sos = cabin(rate, seed)
            wet = 0.6 * signal.sosfilt(sos, padded(played, rate, rng.random(), 1.0))
            # Noise 8 to 28 dB under the sweeps.
            rms = np.sqrt(np.mean(wet**2)) * 10 ** (-(8 + 20 * rng.random()) / 20)
            put(f"seed{seed}", rate, wet + noise_of(len(wet), rms, rng, rate), [x + 20 * np.log10(0.6) for x in truth(sos, rate)])


main()
