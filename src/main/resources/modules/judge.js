// The verdicts of the bench, worked out on the device: what is typed is read and judged as ferrule.bench does it
// (Reading, Unit, Grading, DecisionRule, Outcome), with exact fractions. The server works all of it out again and enters
// nothing whose verdict came out otherwise here, so that a difference can be a nuisance and never a wrong record.
// JudgeIT holds the two against each other.

// -- exact fractions: [numerator, denominator above 0]

function gcd(a, b) {
  while (b) {
    [a, b] = [b, a % b];
  }
  return a < 0n ? -a : a;
}

function fraction(n, d = 1n) {
  const g = gcd(n, d) || 1n;
  return d < 0n ? [-n / g, -d / g] : [n / g, d / g];
}

const plus = ([a, b], [c, d]) => fraction(a * d + c * b, b * d);
const minus = ([a, b], [c, d]) => fraction(a * d - c * b, b * d);
const times = ([a, b], [c, d]) => fraction(a * c, b * d);
const over = ([a, b], [c, d]) => fraction(a * d, b * c);
const less = ([a, b], [c, d]) => a * d < c * b;

/** The fraction of a decimal such as "-0.30". */
export function decimal(words) {
  const [, sign, whole, part = ""] = /^([+-]?)(\d*)\.?(\d*)$/.exec(words);
  const n = BigInt(`${whole}${part}` || "0");
  return fraction(sign === "-" ? -n : n, 10n ** BigInt(part.length));
}

/** Rounds to so many significant digits, halves to even or up. */
function rounded([n, d], digits, even) {
  if (n === 0n) {
    return [0n, 1n];
  }
  const a = n < 0n ? -n : n;
  let exponent = BigInt(String(a).length - String(d).length); // of ten, of the first digit, or one above it
  const ten = (e) => (e < 0n ? [1n, 10n ** -e] : [10n ** e, 1n]);
  if (less([a, d], ten(exponent))) {
    exponent -= 1n;
  }
  const unit = ten(exponent - BigInt(digits - 1));
  const [p, q] = over([a, d], unit);
  let whole = p / q;
  const twice = 2n * (p % q);
  if (twice > q || (twice === q && (!even || whole % 2n === 1n))) {
    whole += 1n;
  }
  return times(fraction(n < 0n ? -whole : whole), unit);
}

/** A fraction with so many significant digits, the last ones zeros too, if it has more than those. */
function inShort(value, digits, even) {
  const near = text(rounded(value, digits, even));
  if (text(value) === near || !/[1-9]/.test(near)) {
    return near;
  }
  const missing = digits - near.replace(/^-?0*\.?0*/, "").replace(".", "").length;
  return missing > 0 ? `${near}${near.includes(".") ? "" : "."}${"0".repeat(missing)}` : near;
}

/** A fraction as a plain decimal; cut after so many places if it does not end before. */
function text([n, d], places = 40) {
  const a = n < 0n ? -n : n;
  let rest = a % d;
  let digits = "";
  while (rest && digits.length < places) {
    rest *= 10n;
    digits += rest / d;
    rest %= d;
  }
  return `${n < 0n ? "-" : ""}${a / d}${digits && `.${digits}`}`;
}

// -- units: value x factor + shift, in the unit of each quantity that stands first

const UNITS = {
  mm: [fraction(1n), fraction(0n)],
  in: [fraction(254n, 10n), fraction(0n)],
  thou: [fraction(254n, 10000n), fraction(0n)],
  "°C": [fraction(1n), fraction(0n)],
  "°F": [fraction(5n, 9n), fraction(-160n, 9n)],
  g: [fraction(1n), fraction(0n)],
  s: [fraction(1n), fraction(0n)],
  cents: [fraction(1n), fraction(0n)],
};

function convert(value, from, to) {
  if (from === to) {
    return value;
  }
  const [factor, shift] = UNITS[from];
  const [factorTo, shiftTo] = UNITS[to];
  return over(minus(plus(times(value, factor), shift), shiftTo), factorTo);
}

// -- what is typed

const DECIMAL = /^([+-]?)(\d{1,9}(?:[.,]\d{0,12})?|[.,]\d{1,12})\s*(\S.*)?$/;
const FRACTION = /^([+-]?)(?:(\d{1,5})(?:\s+|\s*-\s*))?(\d{1,3})\s*\/\s*(\d{1,3})\s*(\S.*)?$/;
const PARTS_OF_AN_INCH = [2, 4, 8, 16, 32, 64, 128];
const EXAMPLES = {
  mm: "such as 0.35, or with its unit, such as 0.35 mm, 1/64 in or 5 thou",
  "°C": "such as 60, or with its unit, such as 140 °F",
};
EXAMPLES.in = EXAMPLES.thou = EXAMPLES.mm;
EXAMPLES["°F"] = EXAMPLES["°C"];

class Fault extends Error {}

function unitOf(written, measured) {
  if (written === undefined) {
    return measured.unit;
  }
  const plain = written.trim().toLowerCase();
  const unit = measured.units.find((u) => u.written.includes(plain));
  if (!unit) {
    throw new Fault(`this is read in ${measured.units.map((u) => u.symbol).join(" or ")}; “${written.trim()}” is not a unit for it`);
  }
  return unit.symbol;
}

/** A reading as it is typed: {value, unit, shown}; throws a Fault that says what was expected. */
function read(typed, measured) {
  const plain = typed.trim().replaceAll("−", "-").replaceAll("⁄", "/");
  const part = FRACTION.exec(plain);
  if (part) {
    return readFraction(part, measured);
  }
  const number = DECIMAL.exec(plain);
  if (!number) {
    throw new Fault(`a reading is a number in ${measured.unit}, ${EXAMPLES[measured.unit] ?? "such as 3.5"}; given: ${typed}`);
  }
  const [whole, after = ""] = number[2].replace(",", ".").split(".");
  const shown = `${number[1] === "-" ? "-" : ""}${String(BigInt(whole || "0"))}${after && `.${after}`}`;
  return { value: decimal(shown), unit: unitOf(number[3], measured), shown: /^-0(\.0*)?$/.test(shown) ? shown.slice(1) : shown };
}

function readFraction([all, sign, whole, above, below, written], measured) {
  if (written === undefined && measured.unit !== "in") {
    throw new Fault(`a fraction is read in inches, this in ${measured.unit}; with its unit it would be ${all.trim()} in`);
  }
  const unit = unitOf(written, measured);
  if (unit !== "in" || !PARTS_OF_AN_INCH.includes(Number(below)) || Number(above) >= Number(below)) {
    throw new Fault("a fraction is one of an inch in halves, 4ths, 8ths, 16ths, 32nds, 64ths or 128ths, such as 1/64 in or "
      + `3 1/2 in; anything else in ${measured.unit} is a number such as 0.35`);
  }
  const size = plus(fraction(BigInt(whole ?? 0)), fraction(BigInt(above), BigInt(below)));
  const value = sign === "-" ? minus([0n, 1n], size) : size;
  return { value, unit, shown: text(value) };
}

// -- verdicts

const VERDICTS = { good: "within the limits", bad: "outside the limits", open: "too close to a limit to tell" };

function limitsOf(measured, entries, id) {
  if (measured.limits) {
    const { lower, upper, words, source } = measured.limits;
    return { lower: lower && decimal(lower), upper: upper && decimal(upper), words, source };
  }
  const own = (typed) => {
    if (!typed) {
      return undefined;
    }
    const { value, unit, shown } = read(typed, measured);
    if (unit === measured.unit) {
      return { exact: value, shown };
    }
    // a limit typed in another unit is kept to seven digits, finer than any gauge here
    const converted = convert(value, unit, measured.unit);
    return { exact: rounded(converted, 7, true), shown: inShort(converted, 7, true) };
  };
  const lower = own(entries.lowers[id]);
  const upper = own(entries.uppers[id]);
  if (!lower && !upper) {
    return undefined;
  }
  if (lower && upper && !less(lower.exact, upper.exact)) {
    throw new Fault(`the lower limit is below the upper one; given: ${lower.shown} and ${upper.shown}`);
  }
  const words = lower && upper ? `${lower.shown} to ${upper.shown} ${measured.unit}`
    : lower ? `at least ${lower.shown} ${measured.unit}` : `at most ${upper.shown} ${measured.unit}`;
  return { lower: lower?.exact, upper: upper?.exact, words, source: "set by the instructor" };
}

function judge(value, limits, guard) {
  const rooms = [limits.lower && minus(value, limits.lower), limits.upper && minus(limits.upper, value)].filter(Boolean);
  const inside = rooms.reduce((a, b) => (less(b, a) ? b : a));
  if (!less(inside, guard)) {
    return "good";
  }
  return less(inside, minus([0n, 1n], guard)) ? "bad" : "open";
}

const capital = (words) => words.charAt(0).toUpperCase() + words.slice(1);

function measure({ id, measured }, entries) {
  const typed = entries.readings[id] ?? "";
  try {
    const limits = limitsOf(measured, entries, id);
    if (!typed) {
      return { state: "open", words: limits ? "Enter the reading." : "Set your limits and enter the reading." };
    }
    const reading = read(typed, measured);
    if (!limits) {
      return { state: "open", words: "Set a lower limit, an upper limit, or both." };
    }
    const value = convert(reading.value, reading.unit, measured.unit);
    const verdict = judge(value, limits, decimal(measured.guard));
    const shown = `${reading.shown} ${reading.unit}`
      + (reading.unit === measured.unit ? "" : ` = ${inShort(value, 4, false)} ${measured.unit}`);
    const sentence = `${shown}, ${VERDICTS[verdict]} (${limits.words}, ${limits.source})`
      + (verdict === "open" ? "; read it again on a finer gauge" : "");
    return { state: verdict, found: true, passes: verdict === "good", best: verdict === "good", sentence, words: `${capital(sentence)}.` };
  } catch (fault) {
    if (!(fault instanceof Fault)) {
      throw fault;
    }
    return { state: "faulty", words: `${capital(fault.message)}.` };
  }
}

function rate({ id, levels, pass }, entries) {
  const level = entries.levels[id];
  if (!(level >= 1 && level <= levels.length)) {
    return { state: "open", words: "Choose a level." };
  }
  const passes = level >= pass;
  return {
    state: passes ? "good" : "bad", found: true, passes, best: level === levels.length,
    sentence: `level ${level} of ${levels.length}: ${levels[level - 1].replace(/\.$/, "")}`,
    words: passes ? "Passes" : "Does not pass",
  };
}

/** The criteria of a task with what was entered: [{criterion, state, words, found, passes, best, sentence}]. */
export function grading(task, entries) {
  return task.criteria.map((criterion) => ({
    criterion, ...(criterion.measured ? measure(criterion, entries) : rate(criterion, entries)),
  }));
}

/** How the work stands, {standing, reasons}, once every line is found. */
export function outcome(task, lines) {
  const weight = (all) => all.reduce((sum, l) => sum + l.criterion.weight, 0);
  const whole = weight(lines);
  const passed = weight(lines.filter((l) => l.passes));
  const against = lines.filter((l) => l.criterion.critical && !l.passes)
    .map((l) => `${l.criterion.title} is critical and does not pass: ${l.sentence}`);
  if (passed * 100 < task.passPercent * whole) {
    against.push(`criteria worth ${passed} of ${whole} pass; the task asks for ${task.passPercent} % of them`);
    lines.filter((l) => !l.criterion.critical && !l.passes)
      .forEach((l) => against.push(`${l.criterion.title} does not pass: ${l.sentence}`));
  }
  if (against.length) {
    return { standing: "not yet", reasons: against };
  }
  if (lines.every((l) => l.best)) {
    return { standing: "fine", reasons: ["every criterion passes, and none could be better"] };
  }
  return {
    standing: "sound",
    reasons: [passed === whole ? "every criterion passes"
      : `every critical criterion passes, and criteria worth ${passed} of ${whole}`],
  };
}

/** What is still to be done before a draft can be signed, in a sentence; empty if nothing is. */
export function wanting(task, draft, lines) {
  const open = lines.filter((l) => !l.found).length;
  if (!draft.entries.cautionsConfirmed) {
    return "The cautions have not been confirmed.";
  }
  if (open) {
    return `${open === 1 ? "One criterion is" : `${open} criteria are`} still open; each is marked below.`;
  }
  if (task.photoAsked && !draft.herePhotos.length && !draft.photos.length) {
    return "This work asks for a photo. Add one below.";
  }
  return draft.corrects && !draft.entries.reason ? "Say why you correct the record." : "";
}

/** How far a draft has come, in a sentence. */
export function summary(task, draft, lines) {
  const open = lines.filter((l) => !l.found).length;
  if (open) {
    return open === 1 ? "1 criterion to go." : `${open} criteria to go.`;
  }
  const words = `All criteria are in. The work stands as: ${outcome(task, lines).standing}.`;
  if (draft.corrects && !draft.entries.reason) {
    return `${words} Say why you correct it.`;
  }
  return wanting(task, draft, lines).includes("photo") ? `${words} A photo is asked for.` : words;
}
