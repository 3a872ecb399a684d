// Which load comes after a set. The source of truth is engine/day_sheet/next_set.py with the
// filter of engine/strength/filter.py for one lifter and one lift; this is its copy for a phone
// without signal, held to the engine's answers by tests/browser_js/test_advice_vectors.py.
//
// A state is what the sheet's document brings: mean [4][nodes], cov [4][4][nodes], log_weight and
// kappa [nodes], fast, slow, noise_scale, known, levels ({own, other, apart}, ln, of a lift that is
// done on two machines, else null). Functions return new states.

const X = 0, D = 1, F = 2, B = 3;
const NEAREST_TO_ONE = 0.25;
const SAME_KG = 1e-6;
// As in engine/rack/masses.py: a load is typed with two decimals, so 22.68 kg is the kit's 50 lb.
const SAME_LOAD_KG = 0.006;
const MOST_REPS = 40;
// More repetitions than this above the range are far above it (engine: strength/landing).
const FAR_REPS = 2;
// Costs this near are alike.
const ALIKE = 1e-4;

const signedPower = (value, power) => Math.sign(value) * Math.abs(value) ** power;
const psi = (m, power) => signedPower(m - 1, power);
const psiSlope = (m, power) => power * Math.max(Math.abs(m - 1), NEAREST_TO_ONE) ** (power - 1);

function countVariance(m, reps, rir, toFailure, noise) {
  const length = noise.reps + noise.reps_slope * Math.max(m, 0);
  const said = noise.rir + noise.rir_slope * rir + noise.rir_long_slope * Math.max(reps - 8, 0);
  return length * length + (1 - toFailure) * said * said + (2 - toFailure) / 12;
}

// The normal distribution function, from erf by its series and its continued fraction.
function normalCdf(z) {
  const x = Math.abs(z) / Math.SQRT2;
  if (x > 6) return z > 0 ? 1 : 0;
  let upper;
  if (x < 2) {
    let term = x, sum = x;
    for (let k = 1; Math.abs(term) > 1e-17; k++) {
      term *= -x * x / k;
      sum += term / (2 * k + 1);
    }
    upper = 1 - (2 / Math.sqrt(Math.PI)) * sum;
  } else {
    let fraction = 0;
    for (let k = 60; k > 0; k--) fraction = (k / 2) / (x + fraction);
    upper = Math.exp(-x * x) / Math.sqrt(Math.PI) / (x + fraction);
  }
  return z > 0 ? 1 - upper / 2 : upper / 2;
}

function weights(logWeight) {
  const most = Math.max(...logWeight);
  const raised = logWeight.map((value) => Math.exp(value - most));
  const total = raised.reduce((sum, value) => sum + value, 0);
  return raised.map((value) => value / total);
}

function dose(reps, toFailure, fatigue) {
  const done = Math.max(reps, 0);
  const m = Math.max(toFailure, done, 1);
  return done ** fatigue.dose_nearness_power
    * m ** (fatigue.dose_reps_power - fatigue.dose_nearness_power)
    / 10 ** fatigue.dose_reps_power;
}

// ln of a load as the lift's own level has it: a load nearer to the other level's is of that one.
function lnLoad(state, kg) {
  const ln = Math.log(kg), two = state.levels ?? null;
  return two !== null && Math.abs(ln - two.other) < Math.abs(ln - two.own) ? ln - two.apart : ln;
}

export function rested(state, seconds, fatigue) {
  return {
    ...state,
    fast: state.fast * Math.exp(-seconds / fatigue.fast_tau_s),
    slow: state.slow * Math.exp(-seconds / fatigue.slow_tau_s),
  };
}

// One set folded in and believed in full. `set`: {effectiveKg, reps, rir (null: not said), evidence}.
// Of a rest-pause or drop set these are the first part's; the parts after it only tire: `laterReps`,
// `partRestS` apart.
export function observed(state, set, law) {
  const said = set.rir !== null;
  const given = said ? set.rir : 2;
  const toFailure = given === 0 && said ? 1 : 0;
  const rir = toFailure ? 0 : given;
  const extra = said ? 0 : law.noise.rir_unknown_sd ** 2;
  const weight = weights(state.log_weight);
  const bias = weight.reduce((sum, w, j) => sum + w * state.mean[B][j], 0);
  let next = state;
  if (set.evidence !== false) {
    const seen = weight.map((_, j) => seenAt(state, j, set, rir, toFailure, extra, law));
    // A failed attempt only says that the load was too much: no news where that was expected.
    const z = weight.reduce((sum, w, j) => sum + w * seen[j].error / Math.sqrt(seen[j].spread), 0);
    const empty = set.reps === 0 && !(state.known && z < 0);
    if (!empty) next = state.known ? updated(state, seen) : started(state, seen);
  }
  const added = dose(set.reps, set.reps + (1 + bias) * rir, law.fatigue);
  return withLaterParts({
    ...next,
    fast: next.fast + law.fatigue.fast_share * added,
    slow: next.slow + (1 - law.fatigue.fast_share) * added,
  }, set, law.fatigue);
}

function withLaterParts(state, { laterReps = [], partRestS = 0, rir }, fatigue) {
  return laterReps.reduce((before, reps) => {
    const tired = rested(before, partRestS, fatigue);
    const added = dose(reps, reps + (rir ?? 0), fatigue);
    return {
      ...tired,
      fast: tired.fast + fatigue.fast_share * added,
      slow: tired.slow + (1 - fatigue.fast_share) * added,
    };
  }, state);
}

// How far a set lies from what the state expects: {jump} in ln of the load, {z} in its own spread.
export function surprise(state, set, law) {
  const said = set.rir !== null;
  const given = said ? set.rir : 2;
  const toFailure = given === 0 && said ? 1 : 0;
  const extra = said ? 0 : law.noise.rir_unknown_sd ** 2;
  const seen = state.kappa.map((_, j) => seenAt(state, j, set, toFailure ? 0 : given, toFailure, extra, law));
  const mixed = (of) => weights(state.log_weight).reduce((sum, w, j) => sum + w * of(seen[j]), 0);
  return { jump: mixed(({ error }) => error), z: mixed(({ error, spread }) => error / Math.sqrt(spread)) };
}

// What one node makes of the set: the error, its variance, the gain before division.
function seenAt(state, j, set, rir, toFailure, extra, law) {
  const { mean, cov } = state;
  const fatigue = state.fast + state.slow;
  const lossSlope = Math.exp(mean[F][j]) * fatigue;
  const m = Math.max(set.reps + (1 + mean[B][j]) * rir, 0);
  const slope = state.kappa[j] * psiSlope(m, law.curve_power);
  const seen = lnLoad(state, set.effectiveKg) + state.kappa[j] * psi(m, law.curve_power);
  const counted = countVariance(m, set.reps, rir, toFailure, law.noise) + extra;
  const noise = counted * slope * slope * state.noise_scale;
  const toward = [1, 1, -lossSlope, -slope * rir];
  const top = [X, D, F, B].map((i) => toward.reduce((sum, h, k) => sum + cov[i][k][j] * h, 0));
  const spread = toward.reduce((sum, h, k) => sum + h * top[k], 0) + noise;
  const error = seen - (mean[X][j] + mean[D][j] - lossSlope);
  return { seen, error, spread, top, slope, noise, toward };
}

function updated(state, seen) {
  const logWeight = state.log_weight.map((value, j) => {
    const { slope, spread, error } = seen[j];
    return value + Math.log(slope) - 0.5 * Math.log(spread) - 0.5 * error * error / spread;
  });
  const most = Math.max(...logWeight);
  return {
    ...state,
    mean: state.mean.map((row, i) =>
      row.map((value, j) => value + seen[j].top[i] / seen[j].spread * seen[j].error)),
    cov: state.cov.map((plane, i) => plane.map((row, k) =>
      row.map((value, j) => value - seen[j].top[i] * seen[j].top[k] / seen[j].spread))),
    log_weight: logWeight.map((value) => value - most),
  };
}

// A lift's first set: the level from this set alone, the rest as it was.
function started(state, seen) {
  const { mean, cov } = state;
  const rest = [D, F, B];
  const across = rest.map((i) => seen.map(({ toward }, j) =>
    rest.reduce((sum, k) => sum + cov[i][k][j] * toward[k], 0)));
  const own = seen.map(({ toward, noise }, j) =>
    rest.reduce((sum, i, at) => sum + across[at][j] * toward[i], 0) + noise);
  const level = seen.map((one, j) => one.seen - mean[D][j] - one.toward[F] );
  const newCov = cov.map((plane, i) => plane.map((row, k) => {
    if (i === X && k === X) return own;
    if (i === X) return across[k - 1].map((value) => -value);
    if (k === X) return across[i - 1].map((value) => -value);
    return row;
  }));
  return { ...state, known: true, mean: [level, ...mean.slice(1)], cov: newCov };
}

// Probability of at least `reps` repetitions at this load and said RIR, in this state.
export function chanceOf(reps, effectiveKg, rir, state, law) {
  const toFailure = rir === 0 ? 1 : 0;
  const said = reps - 0.5 + rir;
  if (said < 0) return 1;
  const { mean, cov } = state;
  const fatigue = state.fast + state.slow;
  const asked = lnLoad(state, effectiveKg);
  const done = Math.max(said - rir, 0);
  let below = 0;
  weights(state.log_weight).forEach((weight, j) => {
    const loss = Math.exp(mean[F][j]) * fatigue;
    const withX = [X, D, F, B].map((k) => cov[X][k][j] + cov[D][k][j] - loss * cov[F][k][j]);
    const capacity = mean[X][j] + mean[D][j] - loss;
    const variance = withX[X] + withX[D] - loss * withX[F];
    const m = Math.max(said + mean[B][j] * rir, 0);
    const slope = state.kappa[j] * psiSlope(m, law.curve_power);
    const error = asked + state.kappa[j] * psi(m, law.curve_power) - capacity;
    const noise = countVariance(m, done, rir, toFailure, law.noise);
    const pulled = slope * rir;
    const spread = variance - 2 * pulled * withX[B] + pulled * pulled * cov[B][B][j]
      + slope * slope * noise * state.noise_scale;
    below += weight * normalCdf(error / Math.sqrt(spread));
  });
  return 1 - below;
}

// ------------------------------------------------------------------------------------ the rack

// What the muscles move; null where a bodyweight is needed and not known.
export function effectiveKg(lift, loadKg, bodyweightKg) {
  if (lift.load_kind === "external" || lift.load_kind === "per_hand") return loadKg;
  if (bodyweightKg === null) return null;
  const moved = lift.bodyweight_share * bodyweightKg;
  return lift.load_kind === "bodyweight_plus" ? moved + loadKg : moved - loadKg;
}

function writtenKg(lift, effective, bodyweightKg) {
  if (lift.load_kind === "external" || lift.load_kind === "per_hand") return effective;
  const moved = lift.bodyweight_share * bodyweightKg;
  return lift.load_kind === "bodyweight_plus" ? effective - moved : moved - effective;
}

const sorted = new WeakMap();

// The lift's settings, the lightest number first, asked as the engine's Rack is.
export function rackOf(lift) {
  if (!sorted.has(lift.rack)) {
    sorted.set(lift.rack, [...lift.rack].sort((one, other) => one.load_kg - other.load_kg));
  }
  const settings = sorted.get(lift.rack);
  const very = (kg) => settings.find((one) => Math.abs(one.load_kg - kg) <= SAME_KG) ?? null;
  const atMost = (kg) => very(kg)
    ?? settings.findLast((one) => one.load_kg <= kg + SAME_LOAD_KG) ?? null;
  const atLeast = (kg) => very(kg)
    ?? settings.find((one) => one.load_kg >= kg - SAME_LOAD_KG) ?? null;
  const above = (kg) => settings.find((one) => one.load_kg > kg + SAME_LOAD_KG) ?? null;
  const below = (kg) => settings.findLast((one) => one.load_kg < kg - SAME_LOAD_KG) ?? null;
  const easier = lift.more_is_easier;
  return {
    settings, above, below,
    notHarderThan: easier ? atLeast : atMost,
    hardFrom: easier ? atMost : atLeast,
    harder: easier ? below : above,
    easier: easier ? above : below,
    reaches: (kg) => kg >= (settings[0]?.load_kg ?? 0) - SAME_LOAD_KG && kg <= (settings.at(-1)?.load_kg ?? 0) + SAME_LOAD_KG,
    easiest: easier ? settings.at(-1) ?? null : settings[0] ?? null,
    exactly: (kg) => very(kg) ?? settings.find((one) => Math.abs(one.load_kg - kg) <= SAME_LOAD_KG) ?? null,
  };
}

// ------------------------------------------------------------------------------------ the advice

// The load for the next set. `asked`: {lift, law, policy, bodyweightKg, state: before the set and
// rested, done: {load_kg, reps_low, reps_high, rir}, planned: {load_kg, reps_low, reps_high, rir}, reps,
// printedRir: what the sheet asked of `done`, laterReps: of the parts after the first, where the set
// had parts}.
// null where there is nothing to choose from.
export function nextLoad(asked) {
  const choices = choicesAround(asked);
  if (choices === null) return null;
  const reps = Math.min(asked.reps, MOST_REPS);
  const middle = Math.min(asked.done.reps_low, MOST_REPS);
  const moved = (setting) => effectiveKg(asked.lift, setting.load_kg, asked.bodyweightKg);
  const atLine = (count) => loadFor(asked, choices, count);
  // More repetitions never mean a lighter next set, fewer never a heavier one.
  let found = atLine(reps >= middle ? middle : reps);
  if (reps > middle) {
    for (let count = middle + 1; count <= reps; count++) {
      const other = atLine(count);
      if (moved(other) > moved(found)) found = other;
    }
  } else {
    for (let count = reps + 1; count <= middle; count++) {
      const other = atLine(count);
      if (moved(other) < moved(found)) found = other;
    }
  }
  const change = moved(found) - moved(choices.kept);
  const keep = waits(asked, choices, reps) ? "wait" : "keep";
  return {
    setting: found,
    from: choices.kept,
    move: Math.abs(change) < SAME_KG ? keep : change > 0 ? "raise" : "lower",
  };
}

// Whether a load that is kept is so for today only: past the top of a range that the kit's step is so
// wide for that the next, tired set gets no more, where a fresh one with the next load probably
// reaches the bottom.
function waits(asked, { kept, list }, reps) {
  const { lift, law, bodyweightKg, done } = asked, past = done.reps_high + 1;
  const harder = list[list.indexOf(kept) - 1];
  if (harder === undefined || reps < past) return false;
  if (reps < past + FAR_REPS && nextLoad({ ...asked, reps: past + FAR_REPS }).setting !== kept) return false;
  const kg = effectiveKg(lift, harder.load_kg, bodyweightKg);
  for (let count = past; count <= reps; count++) {
    const fresh = rested(tiredAfter(asked, count), Infinity, law.fatigue);
    if (chanceOf(done.reps_low, kg, done.rir, fresh, law) >= 0.5) return true;
  }
  return false;
}

// The load rule (engine: strength/landing): what a set costs that falls short of its range, or above.
// {reaches}: the chance of the planned range's bottom; the cost is by {low}.
function landingAt(planned, low, kg, state, law, policy) {
  const chance = (reps) => chanceOf(reps, kg, planned.rir, state, law);
  const over = chance(planned.reps_high + 1);
  const far = chance(planned.reps_high + 1 + FAR_REPS);
  const cost = policy["load.short_cost"] * (1 - chance(low))
    + policy["load.above_cost"] * (over - far) + policy["load.far_cost"] * far;
  return { cost, reaches: chance(planned.reps_low) };
}

// Of settings from hard to easy the one that lands best. Where all miss alike the easiest does, if
// they are too hard, the hardest, if they are too easy.
function landsBest(settings, landing) {
  const found = settings.map((setting) => ({ setting, ...landing(setting) }));
  const least = Math.min(...found.map((one) => one.cost));
  const alike = found.filter((one) => one.cost <= least + ALIKE);
  return (alike[0]?.reaches < 0.5 ? alike.at(-1) : alike[0])?.setting;
}

// The state with so many repetitions of the set folded in.
function tiredAfter({ state, lift, law, policy, bodyweightKg, done, laterReps }, reps) {
  return observed(state, {
    effectiveKg: effectiveKg(lift, done.load_kg, bodyweightKg),
    reps: Math.min(reps, policy["strength.evidence_max_reps"]), rir: done.rir,
    laterReps, partRestS: policy["fatigue.part_rest_s"],
  }, law);
}

function loadFor(asked, choices, reps) {
  const { lift, law, policy, bodyweightKg, done, planned } = asked;
  const kg = effectiveKg(lift, done.load_kg, bodyweightKg);
  const tired = rested(tiredAfter(asked, reps), lift.rest_s, law.fatigue);
  const from = reps >= done.reps_high ? 0 : choices.list.indexOf(choices.kept);
  const moved = (setting) => effectiveKg(lift, setting.load_kg, bodyweightKg);
  const printed = asked.printedRir ?? done.rir;
  // A range that reaches lower for what fatigue takes is no reason to add load.
  const asWide = planned.reps_high - (done.reps_high - done.reps_low);
  const lowAt = (setting) => (moved(setting) > moved(choices.kept) + SAME_KG
    ? Math.max(planned.reps_low, asWide) : planned.reps_low);
  // One short by little, in repetitions or reserve, takes one step off at most.
  const short = done.reps_low - reps + Math.max(printed - done.rir, 0);
  const end = short > FAR_REPS ? choices.list.length : choices.list.indexOf(choices.kept) + 2;
  const landing = (setting) =>
    landingAt(planned, lowAt(setting), moved(setting), tired, law, policy);
  const found = landsBest(choices.list.slice(from, end), landing);
  // A set inside its range at the printed reserve never lowers the load of the next.
  if (reps < done.reps_low || (done.rir !== null && done.rir < printed)) return found;
  const asDone = kg >= moved(choices.kept) ? choices.kept
    : rackOf(lift).notHarderThan(done.load_kg) ?? choices.kept;
  // One past its top adds a step where the next choice probably keeps the set in its range, and one
  // far above it by more than the range's own width where that is no further than a try may go.
  const above = choices.list[Math.max(choices.list.indexOf(choices.kept) - 1, 0)];
  const isReached = landing(above).reaches >= 0.5;
  const over = reps - done.reps_high;
  const isNear = moved(above) <= moved(choices.kept) * (1 + policy["finding.step"]) + SAME_KG;
  const wide = done.reps_high - done.reps_low + FAR_REPS;
  const passed = asDone === choices.kept && (isReached ? over > 0 : isNear && over > wide);
  const least = passed ? above : asDone;
  return moved(least) > moved(found) ? least : found;
}

function choicesAround({ lift, policy, bodyweightKg, planned, done }) {
  const rack = rackOf(lift);
  const effective = (kg) => effectiveKg(lift, kg, bodyweightKg);
  const kept = rack.notHarderThan(planned.load_kg) ?? rack.easiest;
  if (kept === null || !(effective(kept.load_kg) > 0) || !(effective(done.load_kg) > 0)) return null;
  const keptKg = effective(kept.load_kg);
  const step = (setting, stepKg) => {
    const target = writtenKg(lift, effective(setting.load_kg) + stepKg, bodyweightKg);
    if (stepKg < 0) return rack.notHarderThan(target) ?? rack.easier(setting.load_kg);
    return rack.hardFrom(target) ?? rack.harder(setting.load_kg);
  };
  const harder = [];
  const mostKg = keptKg * (1 + policy["load.most_up"]) + SAME_KG;
  for (let at = kept; harder.length < policy["next_set.steps_up"];) {
    at = step(at, keptKg * policy["next_set.step_up"]);
    // Where the kit's smallest step is larger than the limit, one such step is allowed.
    if (at === null || (harder.length > 0 && effective(at.load_kg) > mostKg)) break;
    harder.push(at);
  }
  const easier = [];
  for (let at = kept; easier.length < policy["next_set.steps_down"];) {
    at = step(at, -keptKg * policy["next_set.step_down"]);
    if (at === null || effective(at.load_kg) <= 0) break;
    easier.push(at);
  }
  return { kept, list: [...harder.reverse(), kept, ...easier] };
}

// The repetitions to expect at this load and RIR: the most that are at least as likely as not.
export function expectedReps(loadKg, rir, lift, state, law, bodyweightKg) {
  const kg = effectiveKg(lift, loadKg, bodyweightKg);
  if (!state.known || kg === null || kg <= 0) return null;
  let reps = 0;
  while (reps < MOST_REPS && chanceOf(reps + 1, kg, rir, state, law) >= 0.5) reps += 1;
  return reps;
}
