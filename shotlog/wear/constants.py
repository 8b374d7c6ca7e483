"""The constants of the call, in one table: value, unit, and where each comes from.

A source is a measurement of our own (`own`), a `convention`, or `judgement`: a figure that somebody had to choose.
`structure` is no claim about presses but about the calculation: how long a table is, how fine a grid. What the call
does at half and at double of each stands in `constants.md` beside this file, measured on simulated lives by
`tests/benchmark/bench_constants.py`. What causes there are, how each shows and what makes it likelier are tables of
their own: `change/causes`, `change/signatures`, and the kinds of entries.
"""

from dataclasses import dataclass
from typing import TypeVar

__all__ = ["TABLE", "Constant"]

T = TypeVar("T", bound=float | tuple[float, ...])


@dataclass(frozen=True, slots=True)
class Constant:
    """One row: `unit` ``1`` for a plain number; spreads are within-insert standard deviations of a channel."""

    value: float | tuple[float, ...]
    unit: str
    source: str


TABLE: dict[str, Constant] = {}
"""Every constant by name, in the order of the rooms a shot passes."""


def _row(name: str, value: T, unit: str, source: str) -> T:
    TABLE[name] = Constant(value, unit, source)
    return value


# level: settling and pauses

WARM_TAUS = _row(
    "WARM_TAUS",
    (1.5, 4.0, 11.0),
    "shots",
    "own: their mixture follows any exponential of 1.5 to 11 shots within a few %",
)
PAUSE_TAUS = _row("PAUSE_TAUS", (2.0, 7.0), "shots", "judgement: the waiting melt (0.6 a shot), the reheating insert")
MOST_SETTLING = _row("MOST_SETTLING", 40, "shots", "judgement: no warm-up is expected after as many")
PAUSE_UNKNOWN_VARIANCE = _row("PAUSE_UNKNOWN_VARIANCE", 1.0, "spreads squared", "judgement: known to within a spread")
PAUSE_OVER = _row("PAUSE_OVER", 0.02, "share", "judgement: what is left of an after-pause curve when it is over")
WAIT_INTERVALS = _row("WAIT_INTERVALS", 3.0, "usual intervals", "judgement: longer than the usual one by as many")
RHYTHM = _row("RHYTHM", (3, 8), "intervals", "judgement: from as many on a rhythm is told, and as many are looked back")
PACE_SHOTS = _row(
    "PACE_SHOTS", 9.0, "shots", "judgement: an insert follows the rhythm within 6 to 12 (trade notes); the middle"
)
PACE_MOST = _row("PACE_MOST", 0.7, "log", "judgement: a shot twice as late, or as early, is no rhythm")
PACE_VARIED = _row("PACE_VARIED", 0.05, "log", "judgement: a rhythm that varies by as much shows")
PACE_PRESSURE = _row(
    "PACE_PRESSURE",
    0.05,
    "share a log ratio",
    "judgement: +0.2 % a K; 6-14 K colder when 60 s become 90 (trade notes), 25 K a log ratio",
)
PACE_CUSHION = _row("PACE_CUSHION", 0.15, "mm a log ratio", "judgement: +0.006 mm a K (trade notes), likewise")
PACE_WEIGHT = _row(
    "PACE_WEIGHT", 0.01, "share a log ratio", "judgement: 1-1.5 % low where 20-35 K colder (trade notes), likewise"
)
PACE_TEMPERATURE = _row(
    "PACE_TEMPERATURE", 25.0, "K a log ratio", "judgement: 6-14 K colder when 60 s become 90 (trade notes)"
)
PACE_ELSEWHERE = _row("PACE_ELSEWHERE", 2.0, "spreads a log ratio", "judgement: what other channels do with the rhythm")
PACE_APART = _row("PACE_APART", 0.25, "share", "judgement: of what the rhythm may do; inserts differ by as much")
RHYTHM_CHANGED = _row(
    "RHYTHM_CHANGED", 0.15, "log", "judgement: 4 K (trade notes); a smaller one moves no pressure by its spread"
)
RHYTHM_KEPT = _row("RHYTHM_KEPT", 0.5, "share", "judgement: of that; nearer to the usual rhythm it has come back")
RHYTHM_SURE = _row("RHYTHM_SURE", 2.0, "standard errors", "judgement: what the rhythm does to a channel is no chance")
AT_SPEED_S = _row("AT_SPEED_S", 8.0, "s", "judgement: no press makes printed-insert parts faster; a recording does")
COOLING_MIN = _row(
    "COOLING_MIN", (4.0, 7.0, 10.0, 14.0, 20.0, 28.0, 40.0, 60.0, 90.0), "min", "structure: grid of time constants"
)
COOLING_TYPICAL_MIN = _row("COOLING_TYPICAL_MIN", 20.0, "min", "judgement: time constant of cooling of an insert")
COOLING_LOG_SPREAD = _row("COOLING_LOG_SPREAD", 0.6, "log", "judgement: within a factor of two")
COOLED_AT_MOST = _row("COOLED_AT_MOST", 0.95, "share", "judgement: of the warm-up that a long wait takes back")
COOLED_OFF = _row("COOLED_OFF", 0.12, "share", "judgement: how far off one pause lies from what its wait makes expect")
COOLED_UNKNOWN = _row(
    "COOLED_UNKNOWN", (0.5, 0.4), "share", "judgement: cooled in a wait of unknown length, how far off"
)
COOLING_TELLING = _row("COOLING_TELLING", 2.0, "spreads", "judgement: warm-up from which a channel tells the cooling")
COOLING_SLACK = _row("COOLING_SLACK", 0.1, "share", "judgement: further spread of a share cooled, as fitted")
MELT_MIN = _row("MELT_MIN", 15.0, "min", "judgement: time constant of a melt that waits in the barrel")
MELT_DEFAULT = _row("MELT_DEFAULT", 3.0, "spreads", "judgement: effect of a melt that waited, either way")
MELT_OFF = _row("MELT_OFF", 1.0, "spreads", "judgement: how far it differs from pause to pause")
MELT_WORTH = _row("MELT_WORTH", 2.0, "pauses", "judgement: what MELT_OFF counts for")
MELT_LEAST_SHARE = _row("MELT_LEAST_SHARE", 0.1, "share", "judgement: a shorter wait tells nothing of the full effect")
MELT_CLIP = _row("MELT_CLIP", 40.0, "spreads", "judgement: no pause tells of more")

STILL_LEAST = _row("STILL_LEAST", 6, "shots", "judgement: a shorter run of one value is no dead channel")
STILL_PAIRS = _row("STILL_PAIRS", 12, "shots", "judgement: before it, to know how often the channel repeats itself")
STILL_LONGER = _row("STILL_LONGER", 3, "1", "judgement: times the longest run before, since repeats come together")
STILL_OFTEN = _row("STILL_OFTEN", 0.5, "share", "judgement: a channel that repeats itself more often tells nothing so")
STILL_CAUTION = _row("STILL_CAUTION", 2.0, "standard errors", "convention: repeats may be likelier than seen so far")
STILL_CHANCE = _row("STILL_CHANCE", 1e-6, "share", "judgement: chance of such a run, were repeats independent")

# level: noise

SLOW_PHI = _row("SLOW_PHI", 0.95, "lag-1", "judgement: harmless wander of a press, over about twenty shots")
READING = _row("READING", 0.02, "spreads squared", "judgement: white reading noise")
PHI_GRID = _row(
    "PHI_GRID",
    (-0.7, -0.5, -0.35, -0.2, 0.0, 0.2, 0.35, 0.5, 0.7, 0.88),
    "lag-1",
    "structure: grid of short-term noise",
)
WANDER_GRID = _row("WANDER_GRID", (0.02, 0.1, 0.25, 0.6, 1.5, 3.5), "spreads squared", "structure: grid of wander")
WANDER_PRIOR = _row(
    "WANDER_PRIOR", (0.35, 0.4, 0.2, 0.05, 0.02, 0.01), "weight", "judgement: of each point of WANDER_GRID"
)
PHI_PRIOR = _row("PHI_PRIOR", 0.35, "lag-1", "judgement: lag-1 values lie about zero, as wide")
PHI_PRIOR_END = _row("PHI_PRIOR_END", 0.7, "lag-1", "judgement: larger ones are no less likely than this one")
TAIL_GRID = _row(
    "TAIL_GRID",
    (0.0, 0.05, 0.1, 0.15, 0.2, 0.25, 0.33),
    "1 / degrees of freedom",
    "structure: grid of tails, normal first; of three degrees and less no spread can be told",
)
TAIL_LEFT = _row("TAIL_LEFT", 0.5, "share", "structure: an innovation of which a fit leaves less tells no tails")
TAIL_PRIOR = _row(
    "TAIL_PRIOR", (0.5, 0.15, 0.1, 0.08, 0.07, 0.06, 0.04), "weight", "judgement: of each; as likely normal as not"
)
WANDER_CAUTION = _row("WANDER_CAUTION", 1.0, "standard deviations", "own: too little wander is what makes false calls")
ROUNDING_SPREAD = _row("ROUNDING_SPREAD", 0.45, "steps", "judgement: least spread believed in, beside rounding")
LEAST_SPREAD_SHARE = _row("LEAST_SPREAD_SHARE", 0.25, "least change", "judgement: least spread believed in")
WANDER_UPSTREAM = _row("WANDER_UPSTREAM", 1.0, "spreads squared", "judgement: a zone's slow swing, on a first insert")
WANDER_ELSEWHERE = _row("WANDER_ELSEWHERE", 0.1, "spreads squared", "judgement: least wander on a first insert")
CORRELATION_WORTH_OWN = _row("CORRELATION_WORTH_OWN", 12.0, "shots", "judgement: shrinks correlations, first insert")
CORRELATION_WORTH = _row("CORRELATION_WORTH", 8.0, "shots", "judgement: shrinks correlations, sisters")
LEAST_OWN = _row(
    "LEAST_OWN", 0.05, "share", "structure: keeps the matrix of correlations invertible; no two channels are one"
)

# level: baseline and sisters

MOST_SISTERS = _row(
    "MOST_SISTERS", (8, 24), "lives", "judgement: more hold on to lots of long ago; of short lives, up to ENOUGH_DOF"
)
LEAST_CUT = _row("LEAST_CUT", 14, "shots", "judgement: a shorter stretch before a change is no sister")
LEAST_SISTER = _row("LEAST_SISTER", 4, "shots", "structure: level and warm-up have as many columns")
LEAST_DOF = _row("LEAST_DOF", 6.0, "degrees of freedom", "judgement: behind a spread that is judged by")
SISTER_PAUSES = _row("SISTER_PAUSES", 3, "pauses", "judgement: last ones of a life that its sisters learn from")
SISTER_STEP = _row("SISTER_STEP", (5, 3), "shots", "judgement: before and after an accepted step, for it to be told")
MOVED_SHARE = _row("MOVED_SHARE", 0.3, "share", "judgement: how well an accepted shift of the level is known")
BETWEEN_SIGMA = _row("BETWEEN_SIGMA", 1.5, "spreads", "judgement: levels of sisters about their mean")
BETWEEN_WORTH = _row("BETWEEN_WORTH", 3.0, "lives", "judgement: what BETWEEN_SIGMA and WARM_SHARE count for")
BETWEEN_ROUNDS = _row("BETWEEN_ROUNDS", 6, "rounds", "structure: mean and spread in turn, until they stand")
WARM_SHARE = _row("WARM_SHARE", 0.15, "share", "judgement: the warm-up as a whole differs between sisters by as much")
WARM_FREE = _row("WARM_FREE", 0.3, "spreads", "judgement: and its columns freely by as much")
SLOWEST_WARM_TAU = _row("SLOWEST_WARM_TAU", 25.0, "shots", "judgement: no warm-up is slower, and none of it is ageing")
AGEING_LATER = _row(
    "AGEING_LATER", (0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8), "share", "structure: of a life, where a later wear may begin"
)
AGEING_LIVES = _row("AGEING_LIVES", 3, "lives", "judgement: fewer make no ageing normal")
AGEING_ALIKE = _row("AGEING_ALIKE", 0.5, "share", "judgement: of the ageing; a life farther off does not share it")
AGEING_NEARLY_ALL = _row("AGEING_NEARLY_ALL", 0.75, "share", "judgement: of the lives that could tell must share it")
AGEING_SURE = _row("AGEING_SURE", 3.0, "standard errors", "judgement: without the life that says most, it is no chance")
AGEING_STEADIER = _row(
    "AGEING_STEADIER",
    -1.1,
    "log likelihood a life",
    "own: of simulated lives; by chance, what looks like an ageing fits better by less",
)
AGEING_WITHIN = _row("AGEING_WITHIN", 45, "shots", "judgement: half a life; in these it must come to a practical size")
AGEING_SHARE = _row("AGEING_SHARE", 0.25, "share", "judgement: lives age at rates this far apart")
AGEING_WORTH = _row("AGEING_WORTH", 3.0, "lives", "judgement: what AGEING_SHARE and AGEING_OTHER count for")
AGEING_OTHER = _row("AGEING_OTHER", 0.02, "spreads a shot", "judgement: trends of a channel that hardly ages")
MOSTLY_GRADUAL = _row("MOSTLY_GRADUAL", 0.5, "share", "convention: more likely than not it goes on growing")
OWN_LEVEL_SIGMA = _row("OWN_LEVEL_SIGMA", 1e3, "spreads", "structure: a first insert's level is free")
OWN_WARM_SIGMA = _row("OWN_WARM_SIGMA", (8.0, 8.0, 8.0), "spreads", "judgement: its warm-up is nearly free")
OWN_PAUSE_SIGMA = _row("OWN_PAUSE_SIGMA", (4.0, 5.0), "spreads", "judgement: its after-pause curves")
OWN_PAUSE_SHARE = _row("OWN_PAUSE_SHARE", 0.8, "share", "judgement: of its warm-up that may come back after a pause")
ODD_FIRST = _row("ODD_FIRST", 8.0, "spreads", "judgement: a first insert's shot this far from those about it is odd")
ODD_FROM = _row("ODD_FROM", 8, "shots", "judgement: before that is asked")
MIDDLE_HALF = _row("MIDDLE_HALF", 1.4826, "1", "convention: from the median deviation to a normal spread")
OWN_STEP = _row("OWN_STEP", (3, 2), "shots", "judgement: the same on a first insert, between print batches")
OWN_TREND_FROM = _row("OWN_TREND_FROM", 14, "shots", "judgement: from as many on a trend is not taken for noise")
LEAST_STEPS = _row("LEAST_STEPS", 0.6, "steps", "judgement: least change that rounding lets one see")
LEAST_STEPS_COARSE = _row(
    "LEAST_STEPS_COARSE", 1.2, "steps", "judgement: the same where the spread is below COARSE_BELOW"
)
COARSE_BELOW = _row("COARSE_BELOW", 0.5, "steps", "judgement: a channel that spreads less is mostly rounding")
LEAST_SIGMA = _row("LEAST_SIGMA", 0.5, "spreads", "judgement: no smaller change is of practical size")
MOST_LEAST_SIGMA = _row("MOST_LEAST_SIGMA", 1.0, "spreads", "judgement: in the mould a change of one spread always is")

# change: the filter and what a fault looks like

RAMP_SIZE = _row("RAMP_SIZE", 0.2, "spreads a shot", "judgement, wide: what a ramp is expected to be")
RAMP_WIDTH = _row("RAMP_WIDTH", 0.13, "spreads a shot", "judgement, wide: and how far off")
STEP_SIZE = _row("STEP_SIZE", 4.0, "spreads", "judgement, wide: what a step is expected to be")
STEP_WIDTH = _row("STEP_WIDTH", 2.5, "spreads", "judgement, wide: and how far off")
HUGE_FACTOR = _row("HUGE_FACTOR", 10.0, "1", "judgement: a few changes are as many times wider")
HUGE_SHARE = _row("HUGE_SHARE", 0.1, "share", "judgement: so that a huge one is called as what it is")
SMEAR_SHOTS = _row(
    "SMEAR_SHOTS", 4.0, "shots", "judgement: time constant of a change that smears in, as a new lot does"
)
ACCELERATING_SHOTS = _row(
    "ACCELERATING_SHOTS", 16.0, "shots", "judgement: a wear that feeds itself grows e-fold in these"
)
SPREAD_RATES = _row("SPREAD_RATES", (0.03, 0.1), "spreads a shot", "judgement: growth tried for a spread that grows")
SPREAD_CLIP = _row("SPREAD_CLIP", 4.5, "spreads", "judgement: one odd shot must not pass for a grown spread")
ONSET_AGES = _row("ONSET_AGES", (12, 36, 120), "shots", "structure: younger onsets are kept all, every 2nd, every 6th")
ONSET_STEPS = _row("ONSET_STEPS", (2, 6), "shots", "structure: see ONSET_AGES")
ONSET_SLOTS = _row("ONSET_SLOTS", 40, "slots", "structure: holds what ONSET_AGES keeps")
LONGEST = _row("LONGEST", 4000, "shots", "structure: length of the tables of curves")
LEAST_INFO = _row("LEAST_INFO", 1e-6, "1", "structure: a channel that no shot has shown stands still")
LEAST_WANDER = _row("LEAST_WANDER", 1e-3, "spreads squared", "structure: no variance of zero")

# change: weights, onset, bars

HAZARD = _row("HAZARD", 1.0 / 80.0, "1 a shot", "judgement: something goes wrong once in a life of about eighty shots")
WORN_AT_FIRST = _row(
    "WORN_AT_FIRST", 0.1, "share", "judgement: trade notes, one in ten goes early, badly printed or handled"
)
STARTS_ELSEWHERE = _row("STARTS_ELSEWHERE", 0.05, "share", "judgement: of inserts, that start off their sisters")
DOF_SHARE = _row("DOF_SHARE", 0.5, "share", "judgement: what each further channel adds to the degrees of freedom")
FAR = _row("FAR", 11.0, "log weight", "structure: a hypothesis further below the best is left out")
CORNERS = _row("CORNERS", (0.2, 0.8), "share", "judgement: where in a wide range of a signature its vectors lie")
WIDE_RANGE = _row("WIDE_RANGE", 0.25, "1", "judgement: a wider range of a signature gets two vectors")
LEAST_LEVEL = _row(
    "LEAST_LEVEL", 20.0, "spreads", "judgement: a pressure, time or force nearer to zero is read from an offset"
)
LEFT_OF_RANGE = _row("LEFT_OF_RANGE", 0.289, "share", "convention: standard deviation of what is even over a range")
TABLE_OFF = _row("TABLE_OFF", 0.15, "share", "judgement: a channel moves by more or less than a signature has it")
TABLE_OFF_LEAST = _row("TABLE_OFF_LEAST", 0.3, "1", "judgement: of the leading channel, for one that hardly moves")
TABLE_OFF_FROM = _row("TABLE_OFF_FROM", 8.0, "log odds", "judgement: a smaller change shows what noise lets it")
SPREAD_GROWS = _row(
    "SPREAD_GROWS",
    0.8,
    "share",
    "judgement: of leaks past the check ring; the notes have its spread first, then its fall",
)
SHARED_ALIKE = _row(
    "SHARED_ALIKE",
    0.8,
    "share",
    "judgement: plug or transducer, where it has several values; else one is worked out ill",
)
SHARED_OFF = _row("SHARED_OFF", 0.05, "share", "judgement: a gain that drifts moves the higher of two pressures more")
FREE_SHARE = _row("FREE_SHARE", 0.5, "share", "judgement: of what is unknown, in more than one channel")
FREE_WIDTH = _row("FREE_WIDTH", 0.6, "1", "own: root mean square where the largest is 1 and the others anything below")
SINGLE_SHAPES = _row("SINGLE_SHAPES", (0.5, 0.5), "share", "judgement: step and ramp of a channel that moves alone")
SOMETHING_ELSE = _row(
    "SOMETHING_ELSE",
    0.05,
    "share",
    "own: of changes that no cause of the table explains; log loss of stated weights on simulated lives, `bench_call`",
)
TABLE_WORTH = _row(
    "TABLE_WORTH",
    10.0,
    "changes",
    "judgement: of the table of causes beside labelled changes; inserts of a design mostly go the same way",
)
LABEL_OFF = _row("LABEL_OFF", 0.5, "spreads", "judgement: how far off a channel of a change is at its end, as fitted")
LABEL_LEAST = _row(
    "LABEL_LEAST",
    0.3,
    "share",
    "structure: of its likeliest cause, or of one change, less is left out, to keep rows few",
)
LABEL_WEIGHT = _row(
    "LABEL_WEIGHT", 0.02, "share", "judgement: where what people say weighed less, its weights tell nothing of it"
)
MOST_LABELLED = _row(
    "MOST_LABELLED", 12, "changes", "judgement: last labelled ones of a design; older tell of another resin, or tool"
)
ONSET_SHARE = _row(
    "ONSET_SHARE", 0.9, "share", "convention: the set of onsets stated holds the true one in nine of ten"
)
SURELY_HEALTHY = _row("SURELY_HEALTHY", 0.05, "share", "judgement: weight that may lie before a clean edge")
FALSE_CALLS_PER_100 = _row("FALSE_CALLS_PER_100", 5.0, "calls in 100 lives", "judgement: what a shop puts up with")
BAR_RATES = _row("BAR_RATES", (0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 40.0), "calls in 100 lives", "structure: of the bars")
BAR_3 = _row(
    "BAR_3", (3.9, 3.2, 2.5, 1.6, 0.9, 0.2, -0.5), "log odds", "own: simulated lives, `set_bars.py`, three channels"
)
BAR_3_FEW = _row(
    "BAR_3_FEW", (6.0, 4.9, 3.8, 2.3, 1.2, 0.2, -0.5), "log odds", "own: the same with fewer sisters than BAR_FEW"
)
BAR_3_FIRST = _row(
    "BAR_3_FIRST", (7.5, 6.7, 5.5, 3.1, 1.4, 0.2, -0.6), "log odds", "own: the same for first inserts of a design"
)
BAR_9 = _row(
    "BAR_9", (6.8, 5.5, 4.2, 2.6, 1.5, 0.2, -0.6), "log odds", "own: simulated lives, `set_bars.py`, nine channels"
)
BAR_9_FEW = _row(
    "BAR_9_FEW", (7.2, 6.0, 4.8, 3.1, 1.9, 0.7, -0.2), "log odds", "own: the same with fewer sisters than BAR_FEW"
)
BAR_9_FIRST = _row(
    "BAR_9_FIRST", (9.0, 7.6, 6.2, 4.3, 2.9, 1.4, 0.2), "log odds", "own: the same for first inserts of a design"
)
BAR_FEW = _row("BAR_FEW", 3, "lives", "own: as many sisters make up for most of what is to be estimated")
BEYOND_BAR = _row("BEYOND_BAR", 1.0, "log odds", "own: how far false calls go beyond the bar, slope of BAR_3")
MOST_OVER = _row("MOST_OVER", 5.0, "log odds", "judgement: one false call that went further counts as this")
CLEAR_BELOW = _row("CLEAR_BELOW", 5.0, "log odds", "judgement: under the bar by as much, a call is withdrawn")

# life: shots

BATCH_SIGMA = _row("BATCH_SIGMA", 0.7, "spreads", "own planning figure: print batches apart, 6 bar against 9 within")
BESIDE_SIGMA = _row("BESIDE_SIGMA", 1.5, "spreads", "judgement: other halves differ as sisters do, see BETWEEN_SIGMA")
FREED_SIGMA = _row("FREED_SIGMA", 50.0, "spreads", "structure: a level that is free again")
OTHER_SETUP_SIGMA = _row("OTHER_SETUP_SIGMA", 200.0, "spreads", "structure: a level that is free under a new set-up")
ODD = _row("ODD", 4.5, "spreads", "judgement: a shot this far from what is expected is held back")
SAME_WAY = _row("SAME_WAY", 2.2, "spreads", "judgement: and counts if the next one lies off the same way by as much")
SAME_SHARE = _row("SAME_SHARE", 0.33, "share", "judgement: and by a third of it; no lasting change fades so soon")
MOST_ODD = _row("MOST_ODD", (2, 12), "shots", "judgement: as many odd ones in so many shots are no chance")
MOST_EVENTS = _row("MOST_EVENTS", 11, "entries", "structure: earlier ones kept of an insert")
MOST_ACCEPTED = _row("MOST_ACCEPTED", 4, "changes", "structure: accepted ones kept of an insert")
MOST_STANDING = _row("MOST_STANDING", 12, "changes", "structure: open ones kept of an insert: the first, and the last")
MOST_FINDINGS = _row("MOST_FINDINGS", 20, "swaps", "structure: kept, with what each said")
LONG_LIFE = _row(
    "LONG_LIFE", (240, 120), "shots", "structure: a longer life is shortened to so many, to bound the state"
)

# life: learning

OWN_SCHEDULE = _row(
    "OWN_SCHEDULE", (12, 18, 27, 40, 60, 90), "shots", "judgement: a first insert takes stock of itself"
)
OWN_LEAST = _row("OWN_LEAST", (10, 14), "shots", "judgement: that it needs for it, at first and later")
SHORTENED_LEAST = _row("SHORTENED_LEAST", 20, "shots", "judgement: of a shortened life, to take stock again")
JOIN_SCHEDULE = _row("JOIN_SCHEDULE", (24, 45, 75), "shots", "judgement: an insert with few sisters adds its noise")
JOIN_SLACK = _row("JOIN_SLACK", 4, "shots", "judgement: as many may be missing or odd by then")
ENOUGH_DOF = _row("ENOUGH_DOF", 250.0, "degrees of freedom", "judgement: behind a spread that is known well enough")
STARTED = _row("STARTED", 5, "shots", "judgement: after as many an insert is asked whether it started elsewhere")
ELSEWHERE = _row("ELSEWHERE", 3.5, "spreads", "judgement: off its sisters by as much (theirs and its own), it is")
MOST_ENDED = _row("MOST_ENDED", 50, "lives", "structure: ended lives kept of a design")
LIVES_FROM = _row("LIVES_FROM", (3, 2), "lives", "judgement: ended, and failed, from which a life curve is told")
LIFE_ROUNDS = _row("LIFE_ROUNDS", 7, "rounds", "structure: each looks forty times finer, down to the last digits")
LIFE_SHAPE = _row("LIFE_SHAPE", 2.5, "1", "judgement: Weibull shape, the middle of what printed inserts show")
LIFE_SHAPE_SPREAD = _row("LIFE_SHAPE_SPREAD", 0.5, "log", "judgement: one pseudo-observation as wide")
REMOUNTED_SIGMA = _row(
    "REMOUNTED_SIGMA", 0.7, "spreads", "judgement: an insert that comes back seats anew; half of BETWEEN_SIGMA"
)
MOST_OUT = _row("MOST_OUT", 24, "inserts", "structure: kept that are out of the mould, in case they come back")
SUDDEN_SHARE = _row(
    "SUDDEN_SHARE", 0.5, "share", "judgement: of inserts that go off, break at any age; the others wear out"
)

# life: calling

FIRST_ONSET = _row(
    "FIRST_ONSET", (4, 1), "shots", "judgement: where a first insert starts is its level; beside sisters, any shot"
)
EVENT_NEAR = _row("EVENT_NEAR", 8, "shots", "judgement: an onset this soon after an entry is near it")
GROWN = _row("GROWN", 0.5, "share", "convention: more likely than not the spread has grown, not the level moved")
SEEN_EARLIER = _row("SEEN_EARLIER", 0.5, "share", "judgement: weight before the last shot, so that one shot is no call")
LOW_FOR = _row("LOW_FOR", 3, "shots", "judgement: that speak against a call in a row, for it to be withdrawn")
NAME_MARGIN = _row("NAME_MARGIN", 0.2, "share", "judgement: another name is clearly likelier by as much")
MATERIAL_AFTER = _row("MATERIAL_AFTER", 10, "shots", "judgement: a material change is the level from then on")
MATERIAL_WEIGHT = _row("MATERIAL_WEIGHT", 0.7, "share", "judgement: as likely, with a lot on record near it")
LOT_NEAR = _row("LOT_NEAR", 10, "shots", "judgement: what near means there")
ACCEPT_GRADUAL = _row("ACCEPT_GRADUAL", 0.3, "share", "judgement: what goes on growing is no level")
ACCEPT_FROM = _row("ACCEPT_FROM", 5, "shots", "judgement: a call stays at least as long")
ACCEPT_MARGIN = _row("ACCEPT_MARGIN", 4, "shots", "judgement: after the onset that the new level is not learnt from")
GOING_ON_SHARE = _row("GOING_ON_SHARE", 0.5, "share", "judgement: a called change goes on at its slope, within as much")
GOING_ON_FREE = _row("GOING_ON_FREE", 0.03, "spreads a shot", "judgement: and within as much more if it surely grows")
LEAST_DRIFT = _row("LEAST_DRIFT", 1e-3, "spreads a shot", "structure: no drift is known better")
RETURN_SEEN = _row("RETURN_SEEN", 10, "shots", "judgement: after its call, in which a change is seen to undo another")
NEXT_MORE = _row("NEXT_MORE", 1.0, "log odds", "judgement: over the bar for the next change in a life")
SCATTER_EVERY = _row("SCATTER_EVERY", 8, "shots", "judgement: beside it the noise is told anew after as many")
SCATTER_FROM = _row("SCATTER_FROM", 1.5, "1", "judgement: times as wide as it was, for a spread to have grown")
SCATTER_MORE = _row(
    "SCATTER_MORE", 20.0, "log odds", "judgement: the same beside a check ring that leaks: the noise is not what it was"
)
NEXT_ALONG = _row("NEXT_ALONG", 0.7, "cosine", "judgement: a next change along the one before is that one going on")
SHADOW_FROM = _row("SHADOW_FROM", 8, "shots", "judgement: a wait so early is not asked about a forgotten swap")
SHADOW_AFTER = _row("SHADOW_AFTER", 10, "shots", "judgement: after the wait, before it is asked")
SHADOW_BAR = _row("SHADOW_BAR", 3.0, "log likelihood", "judgement: for a fresh insert, from which it is asked")

# life: what a swap says

SWAP_FROM = _row("SWAP_FROM", 4, "shots", "judgement: on the new insert, before the swap is asked")
SWAP_DECIDED = _row("SWAP_DECIDED", 3.0, "log odds", "convention: 20 to 1, beyond which the swap has spoken")
SWAP_RATIO = _row(
    "SWAP_RATIO", 2.3, "log ratio", "convention: 10 to 1 by the shots alone (Jeffreys 1961, from memory: strong)"
)
STAYS_INSERT = _row("STAYS_INSERT", 0.03, "share", "judgement: a change of the insert is still there after a swap")
STAYS_MATERIAL = _row("STAYS_MATERIAL", 0.9, "share", "judgement: one of the material")
STAYS_PRESS = _row("STAYS_PRESS", 0.6, "share", "judgement: one of the press; a stop is when presses are mended, too")
STAYS_MEASUREMENT = _row("STAYS_MEASUREMENT", 0.6, "share", "judgement: one of the measurement")
STAYS_SURE = _row("STAYS_SURE", 0.02, "share", "judgement: no chance of staying or going is surer")
STAYS_GROWTH = _row("STAYS_GROWTH", 0.3, "share", "judgement: a change that stayed may have grown by as much")
STAYS_MOST = _row("STAYS_MOST", 8.0, "log odds", "judgement: no level tells more")
STAYED_SHARE = _row("STAYED_SHARE", 0.4, "share", "judgement: it may be as far from what was fitted before the swap")
CLEAR_SHARE = _row("CLEAR_SHARE", 0.75, "share", "judgement: of what is left without the insert, to blame the press")
OTHER_HALF_SHARE = _row("OTHER_HALF_SHARE", 0.5, "share", "judgement: left of the insert if another half stayed")
FOUND_MENDED = _row("FOUND_MENDED", 5, "shots", "judgement: who swaps one half so soon after it mends it by that")
LEFT_AT_LEAST = _row("LEFT_AT_LEAST", 0.02, "share", "judgement: less is left than can tell groups apart")
LEFT_WEIGHT = _row("LEFT_WEIGHT", 0.7, "share", "judgement: weight of the press then")
MOST_SWAPS = _row("MOST_SWAPS", 2, "swaps", "judgement: who has not mended it by then means to live with it")
MENDED_FROM = _row("MENDED_FROM", 12, "shots", "judgement: before a press fault can come back to normal")
MENDED_LEFT = _row("MENDED_LEFT", 0.35, "share", "judgement: less than that is left of a change and what undoes it")
MENDED_GROWN = _row("MENDED_GROWN", 0.2, "share", "judgement: and surely not a grown spread")

# verdict: limits, shots left, swap

BEYOND_FOR = _row("BEYOND_FOR", 2, "shots", "judgement: running, beyond a limit; one may be odd, or a torn reading")

HORIZON = _row("HORIZON", 300, "shots", "judgement: farther off is no end in sight")
COURSE_POWERS = _row(
    "COURSE_POWERS",
    (0.5, 0.7, 1.0, 1.4, 2.0),
    "1",
    "structure: grid of courses, from one that flattens to one that feeds itself",
)
COURSE_AT = _row("COURSE_AT", 30.0, "shots", "structure: where every course is 1; no figure hangs on it")
COURSE_WIDTH = _row("COURSE_WIDTH", 6.0, "spreads", "own: what a ramp of RAMP_SIZE comes to by COURSE_AT shots")
COURSE_ONSETS = _row(
    "COURSE_ONSETS",
    (0, 1, 2, 3, 4, 6, 8, 11, 15, 20, 27, 36, 50),
    "shots",
    "structure: before a call, where its onset is looked for",
)
COURSE_STAYS = _row(
    "COURSE_STAYS", 0.2, "share", "judgement: of changes of an insert that do not grow, as `causes` has it"
)
COURSE_WORTH = _row("COURSE_WORTH", 1.0, "lives", "judgement: what the shares of courses count for beside sisters")
COURSE_ROUNDS = _row(
    "COURSE_ROUNDS", 12, "rounds", "structure: shares of courses and of lives in turn, until they stand"
)
COURSE_CLEAR = _row("COURSE_CLEAR", 2.0, "standard errors", "convention: from which a channel has moved at all")
COURSE_APART = _row(
    "COURSE_APART",
    (0.3, 1.0),
    "log, lives",
    "judgement: trade notes, lives vary by 35-50 %, half of it by when wear begins; one pseudo-observation of that",
)
COURSE_OTHERWISE = _row(
    "COURSE_OTHERWISE", 0.05, "share", "judgement: of inserts, that wear unlike their sisters, as start elsewhere"
)
LEAST_WAY = _row("LEAST_WAY", 3e-3, "share", "structure: of the likeliest course; a less likely one is left out")
LEAST_ROOM = _row("LEAST_ROOM", 1e-3, "spreads", "structure: no room of zero")
RAMP_TIMES = _row("RAMP_TIMES", 0.8, "log", "judgement: how far off RAMP_SIZE a rate may be, within a factor of two")
GIVEN_COUNTS = _row(
    "GIVEN_COUNTS",
    (0.1, 0.5),
    "share",
    "judgement: of the channel that moves most; from the first on a given limit counts, from the second on alone",
)
NEAREST = _row(
    "NEAREST",
    0.5,
    "share",
    "judgement: a channel that has come to its limit less far than that is not the first there",
)
DERIVED_SIGMA = _row("DERIVED_SIGMA", 6.0, "spreads", "judgement: action limits where none are given")
DERIVED_LEAST = _row("DERIVED_LEAST", 3.0, "least change", "judgement: or as many changes of practical size, if wider")
LEFT_SHARES = _row("LEFT_SHARES", (0.9, 0.5, 0.1), "share", "convention: median and 80 % interval of the shots left")
NOISE_OFFSET = _row("NOISE_OFFSET", 4.0, "log odds", "judgement: what a change has to overcome to be seen at all")
LEAST_NOISE = _row("LEAST_NOISE", 0.5, "1", "structure: keeps the signal-to-noise ratio a root")
BAD_LIKELY = _row("BAD_LIKELY", 0.5, "share", "convention: after a break the next part is more likely bad")
SWAP_LEFT = _row("SWAP_LEFT", 3, "shots", "judgement: left when a swap is advised without costs")
BAD_BEFORE_CALL = _row(
    "BAD_BEFORE_CALL", 8.0, "shots", "own: mean delay of a call on simulated lives; each gave a bad part"
)
NEGLIGIBLE = _row("NEGLIGIBLE", 1e-6, "share", "structure: what weighs less is left out of a chance")
ALIKE_SHARE = _row("ALIKE_SHARE", 0.6, "share", "judgement: of the cause's weight, a rival cannot be told apart")
PLANNED_LIFE = _row("PLANNED_LIFE", 90.0, "shots", "judgement: life of an insert of which no lives are known")
PLANNED_LIFE_SPREAD = _row(
    "PLANNED_LIFE_SPREAD",
    1.5,
    "log",
    "judgement: of that life before any is known, from a fifth of it to five times it",
)
PRESSES_APART = _row(
    "PRESSES_APART",
    0.2,
    "log",
    "judgement: common practice, no source: presses differ by a fifth in how long a design lives there",
)
PRESSES_APART_SPREAD = _row(
    "PRESSES_APART_SPREAD", 0.7, "log", "judgement: of that spread; from alike to a factor of three, as the lives say"
)
PRESS_OTHERWISE = _row(
    "PRESS_OTHERWISE",
    (0.05, 1.2),
    "share, log",
    "judgement: of presses, that are unlike the others, and how far those may be off: three times as long",
)
ELSEWHERE_WORTH = _row(
    "ELSEWHERE_WORTH",
    2.0,
    "lives",
    "judgement: breaks and courses seen on other presses count for no more, however many",
)
MOST_ELSEWHERE = _row("MOST_ELSEWHERE", 60, "lives", "structure: kept of a design that ended on other presses")
TYPICAL_RATIO = _row("TYPICAL_RATIO", 13.0 / 30.0, "1", "judgement: a bad part against a new insert, as costs go")
VISIBLE_IN = _row("VISIBLE_IN", 5, "shots", "judgement: a change is said to be seen by now if it is in as many")
VISIBLE_SURE = _row("VISIBLE_SURE", 1.2816, "standard deviations", "convention: in nine of ten cases")
RATE_FACTORS = _row("RATE_FACTORS", (0.5, 2.0), "1", "judgement: costs move the rate of false calls no further")
