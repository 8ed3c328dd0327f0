// The page's wasm files in Node, against the native build: every row of the vectors bit for bit, every job
// of the examples, and what must not be believed. `node tests/wasm.mjs`; FAULTPATH_ASK names a built `ask`.
import assert from 'node:assert/strict';
import { execFileSync, spawnSync } from 'node:child_process';
import { readFileSync, readdirSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { test } from 'node:test';
import { fileURLToPath } from 'node:url';
// The page's two files: the first only judges, until the whole is there.
import * as first from '../web/src/pkg/faultpath_wasm.js';
import * as core from '../web/src/pkg-site/faultpath_wasm.js';

const HERE = dirname(fileURLToPath(import.meta.url));
const ROOT = join(HERE, '..');
const VECTORS = join(ROOT, 'vectors');

first.initSync({ module: readFileSync(join(ROOT, 'web/src/pkg/faultpath_wasm_bg.wasm')) });
const { memory } = core.initSync({ module: readFileSync(join(ROOT, 'web/src/pkg-site/faultpath_wasm_bg.wasm')) });

const json = (...parts) => JSON.parse(readFileSync(join(...parts), 'utf8'));
const copy = (value) => structuredClone(value);

/** What the codes of an answer say. */
const WORDS = json(ROOT, 'web/src/pkg/words.en.json');

// ---------------------------------------------------------------- the native build

function builtAsk() {
  if (process.env.FAULTPATH_ASK) return process.env.FAULTPATH_ASK;
  const out = execFileSync(
    'cargo',
    [
      'build',
      '--release',
      '--quiet',
      '-p',
      'faultpath-tests',
      '--bin',
      'ask',
      '--message-format=json-render-diagnostics',
    ],
    { cwd: ROOT, encoding: 'utf8', maxBuffer: 1 << 28 },
  );
  for (const line of out.split('\n').filter(Boolean)) {
    const message = JSON.parse(line);
    if (message.executable && message.target.name === 'ask') return message.executable;
  }
  throw new Error('cargo built no ask');
}

const ASK = builtAsk();

/** Answers of the native build, in the order of the questions. */
function native(questions) {
  const done = spawnSync(ASK, {
    input: questions.map((q) => JSON.stringify(q) + '\n').join(''),
    encoding: 'utf8',
    maxBuffer: 1 << 30,
  });
  assert.equal(done.status, 0, done.stderr);
  const answers = done.stdout
    .split('\n')
    .filter(Boolean)
    .map((line) => JSON.parse(line));
  assert.equal(answers.length, questions.length);
  return answers;
}

// ---------------------------------------------------------------- bits

const ONE = new Float32Array(1);
const BITS = new Uint32Array(ONE.buffer);
const bits = (v) => {
  ONE[0] = v;
  return BITS[0];
};

/** Where two answers differ; numbers by the bits of their f32. Native prints the shortest decimal of an f32. */
function differs(a, b, path = '') {
  if (typeof a === 'number' && typeof b === 'number') {
    if (a !== Math.fround(a)) return `${path}: ${a} is no f32`;
    return bits(a) === bits(b) ? null : `${path}: ${a} and ${b}`;
  }
  if (a === null || b === null || typeof a !== 'object' || typeof b !== 'object') {
    return a === b ? null : `${path}: ${JSON.stringify(a)} and ${JSON.stringify(b)}`;
  }
  const keys = Object.keys(a);
  if (Array.isArray(a) !== Array.isArray(b) || keys.join() !== Object.keys(b).join()) {
    return `${path}: ${keys} and ${Object.keys(b)}`;
  }
  for (const key of keys) {
    const found = differs(a[key], b[key], `${path}.${key}`);
    if (found) return found;
  }
  return null;
}

/** Answers of the page's wasm files, each by the function the page calls. */
function wasm(question) {
  const { job, circuit } = question.inputs;
  switch (question.ask) {
    case 'judge':
      return { value: core.judge(job) };
    case 'read':
      return { errors: [...core.judge(job).errors, ...core.readings(job).errors] };
    case 'readings':
      return { value: core.readings(job) };
    case 'solve':
      return { value: core.solve(job, 0, circuit) };
    case 'curves':
      return { value: core.curves(job, 0, circuit) };
    case 'drop-profile':
      return { value: core.drop_profile(job, 0, circuit) };
    case 'area-map':
      return { value: core.area_map(job, 0, circuit) };
    case 'lesson': {
      const { seed, learner, kinds, count } = question.inputs;
      return { value: core.lesson_answers(seed, learner, kinds, count) };
    }
    case 'earthing':
      return { value: core.earthing(job, question.inputs.board) };
    case 'electrode':
      return { value: core.electrode(job, question.inputs.board, question.inputs.target) };
    default:
      return core.ask(question);
  }
}

/** Puts the same questions to both and returns the answers. */
function both(questions) {
  const expected = native(questions);
  return questions.map((question, n) => {
    const got = wasm(question);
    const found = differs(got, expected[n]);
    assert.equal(found, null, `${JSON.stringify(question).slice(0, 200)}: wasm and native differ at ${found}`);
    return got;
  });
}

test('what tells bits apart does', () => {
  const next = (v) => {
    ONE[0] = v;
    BITS[0] += 1;
    return ONE[0];
  };
  const third = Math.fround(1 / 3);
  assert.equal(differs({ a: [third] }, { a: [0.33333334] }), null);
  assert.notEqual(differs({ a: [next(third)] }, { a: [0.33333334] }), null);
  assert.notEqual(differs(1 / 3, 0.33333334), null);
  assert.notEqual(differs(0, -0), null);
  assert.notEqual(differs({ a: 1 }, { a: 1, b: null }), null);
  assert.notEqual(differs({ a: null }, { a: 0 }), null);
  assert.notEqual(differs([], {}), null);
});

// ---------------------------------------------------------------- vectors and examples

const topics = readdirSync(VECTORS)
  .filter((name) => name.endsWith('.json'))
  .sort();

for (const name of topics) {
  test(`vectors/${name}: the same bits`, () => {
    const { rows } = json(VECTORS, name);
    assert.ok(rows.length > 0);
    const jobs = new Map();
    const questions = rows.map(({ ask, inputs }) => {
      if (typeof inputs.job !== 'string') return { ask, inputs };
      if (!jobs.has(inputs.job)) jobs.set(inputs.job, json(VECTORS, inputs.job));
      return { ask, inputs: { ...inputs, job: jobs.get(inputs.job) } };
    });
    const answers = both(questions);
    const answered = answers.filter((a) => 'value' in a || 'error' in a);
    assert.equal(answered.length, rows.length);
    const numbers = answers.filter((a) => typeof a.value === 'number').length;
    const expected = rows.filter((r) => typeof r.expect === 'number').length;
    assert.equal(numbers, expected);
  });
}

const examples = readdirSync(join(VECTORS, 'examples'))
  .filter((name) => name.endsWith('.json'))
  .sort();
const example = (name) => json(VECTORS, 'examples', name);

test('every example is judged alike, to the last word', () => {
  assert.ok(examples.length >= 25);
  const questions = examples.map((name) => ({ ask: 'judge', inputs: { job: example(name) } }));
  const expected = native(questions);
  examples.forEach((name, n) => {
    const got = core.judge(questions[n].inputs.job);
    assert.equal(differs(got, expected[n].value), null, name);
    assert.equal(differs(first.judge(questions[n].inputs.job), got), null, name);
    assert.deepEqual(got.errors, [], name);
  });
  assert.deepEqual([...new Set(expected.map((e) => e.value.outcome))].sort(), ['cannot-say', 'fail', 'pass']);
});

test('the readings of a job are judged alike, and nothing missing may be energised', () => {
  const house = json(ROOT, 'web/src/example-job.json');
  const jobs = [house, ...examples.map(example)];
  // Each reading of the house taken away, over range, and no reading at all.
  const walk = (value, path) => {
    if (value === null || typeof value !== 'object') return [];
    if ('shown' in value) return [path];
    return Object.entries(value).flatMap(([key, inner]) => walk(inner, path === '' ? key : `${path}.${key}`));
  };
  const paths = walk(house, '');
  assert.ok(paths.length > 25, `${paths.length}`);
  for (const path of paths) {
    for (const reading of [null, { above: 5000 }, { shown: 0 }, { shown: Number.MAX_VALUE }]) {
      const job = copy(house);
      const keys = path.split('.');
      const last = keys.pop();
      keys.reduce((at, key) => at[key], job)[last] = reading;
      jobs.push(job);
    }
  }
  let judgedReadings = 0;
  both(jobs.map((job) => ({ ask: 'readings', inputs: { job } }))).forEach(({ value }) => {
    for (const { places } of value.judgements) {
      for (const { tests, steps, may, stops } of places) {
        assert.equal(may === 1, stops.length === 0);
        const open = steps.some(({ needed, when, outcome }) => needed === 1 && when !== 'live' && outcome !== 'pass');
        if (open) assert.equal(may, 0);
        judgedReadings += tests.filter(({ taken }) => taken === 1).length;
        for (const t of tests) assert.ok(t.taken === 1 || t.outcome !== 'pass', t.path);
      }
    }
  });
  assert.ok(judgedReadings > 1000, `${judgedReadings}`);
});

test('the pictures of the circuits of every example are drawn alike', () => {
  const questions = [];
  for (const job of [json(ROOT, 'web/src/example-job.json'), ...examples.map(example)]) {
    const step = job.circuits.length > 20 ? 20 : 1;
    for (let n = 0; n < job.circuits.length; n += step) {
      const inputs = { job, circuit: job.circuits[n].id };
      for (const ask of ['curves', 'drop-profile', 'area-map']) questions.push({ ask, inputs });
    }
  }
  let cells = 0;
  for (const { value } of both(questions)) for (const row of value?.rows ?? []) cells += row.cells.filter(Boolean).length;
  assert.ok(cells > 2000, `${cells}`);
});

test('a set of exercises is the same from one seed everywhere, and each entry is told what it is', () => {
  const kinds = ['r1r2', 'ring-r1r2', 'zs', 'max-zs', 'fault-current', 'drop-radial', 'drop-spread', 'drop-ring', 'adiabatic', 'capacity', 'tabulated',
    'design-current', 'touch-voltage'];
  const questions = [];
  for (let seed = 0; seed < 20; seed += 1) questions.push({ ask: 'lesson', inputs: { seed: seed * 65537, learner: seed % 4, kinds: kinds.join('.'), count: 39 } });
  let slips = 0;
  both(questions).forEach(({ value }, n) => {
    const { seed, learner, kinds: names } = questions[n].inputs;
    assert.deepEqual(value.map(({ kind }) => kind), [...kinds, ...kinds, ...kinds]);
    // What is asked gives no answer away.
    for (const asked of core.lesson_questions(seed, learner, names, 39)) assert.deepEqual(Object.keys(asked), ['kind', 'family', 'unit', 'given']);
    value.forEach(({ answer, shown, slips: all }, at) => {
      assert.equal(core.lesson_told(seed, learner, names, at, answer).told, 'right');
      assert.equal(core.lesson_told(seed, learner, names, at, Number.parseFloat(shown)).told, 'right', shown);
      for (const { slip, shown: wrong } of all) {
        const told = core.lesson_told(seed, learner, names, at, Number.parseFloat(wrong));
        assert.ok(told.told === 'slip' && told.slips.includes(slip), `${slip} ${wrong}: ${JSON.stringify(told)}`);
        slips += 1;
      }
    });
  });
  assert.ok(slips > 2000, `${slips}`);
});

test('every circuit of every example is solved alike', () => {
  const questions = [];
  for (const name of examples) {
    const job = example(name);
    // The largest has sixty circuits: every tenth of them.
    const step = job.circuits.length > 20 ? 10 : 1;
    for (let n = 0; n < job.circuits.length; n += step) {
      questions.push({ ask: 'solve', inputs: { job, circuit: job.circuits[n].id } });
    }
  }
  const expected = native(questions);
  let solved = 0;
  questions.forEach(({ inputs }, n) => {
    const got = core.solve(inputs.job, 0, inputs.circuit);
    assert.equal(differs(got, expected[n].value), null, `${inputs.job.name}, ${inputs.circuit}`);
    solved += got.smallest_csa.value !== null;
  });
  assert.ok(solved > 20, `${solved}`);
});

test('no sentence is in the page\'s files, and every one in the catalogue', () => {
  for (const folder of ['pkg', 'pkg-site']) {
    const file = readFileSync(join(ROOT, 'web/src', folder, 'faultpath_wasm_bg.wasm')).toString('latin1');
    for (const { source, template } of WORDS.rules) {
      for (const text of [source, template]) assert.equal(text.length > 12 && file.includes(text), false, text);
    }
    assert.equal(file.includes('BS 7671'), false);
  }
  assert.ok(JSON.stringify(WORDS.rules).includes('BS 7671'));
});

test('every board away from the supply is compared alike, and its electrode', () => {
  const jobs = examples.map((name) => [name, example(name)]);
  const page = json(ROOT, 'web/src/example-job.json');
  for (const soil of [30, 250, 4000]) {
    for (const kind of [
      { kind: 'rod', length: 2.4, diameter: 0.016 },
      { kind: 'rods', length: 1.2, diameter: 0.016, count: 3, layout: 'square', spacing: 2.4 },
      { kind: 'plate', width: 0.9, height: 0.6 },
      { kind: 'tape', length: 20, width: 0.025, depth: 0.6 },
      { kind: 'wire', length: 30, diameter: 0.008, depth: 0.5 },
      { kind: 'foundation', length: 8, width: 5, depth: 0.3, in_contact: true },
    ]) {
      const job = copy(page);
      Object.assign(job.boards[1].site, { resistivity: soil, electrode: kind, situations: ['mast', 'timber'] });
      jobs.push([`${kind.kind} in ${soil}`, job]);
    }
  }
  const questions = [];
  for (const [, job] of jobs) {
    for (const { id, fed_by } of job.boards.filter((b) => b.fed_by !== null).slice(0, 3)) {
      assert.notEqual(fed_by, undefined);
      questions.push({ ask: 'earthing', inputs: { job, board: id } });
      questions.push({ ask: 'electrode', inputs: { job, board: id, target: 20 } });
    }
  }
  assert.ok(questions.length > 60);
  let lines = 0;
  for (const answer of both(questions)) {
    assert.equal(answer.value.error, null);
    for (const { sides } of answer.value.judgements ?? []) {
      assert.equal(sides.length, 3);
      for (const side of sides) lines += side.working.length;
    }
    lines += answer.value.working?.length ?? 0;
  }
  assert.ok(lines > 100, `${lines}`);
});

test('every finding has its working', () => {
  let steps = 0;
  for (const name of examples.filter((n) => !n.startsWith('sixty'))) {
    const job = example(name);
    core.judge(job).judgements.forEach((judgement, which) => {
      for (const { place, findings } of judgement.places) {
        for (const { check } of findings) {
          for (const step of core.working(job, which, place, check)) {
            assert.ok(step.value === null || Number.isFinite(step.value), `${name} ${check} ${step.rule}`);
            const rule = WORDS.rules[step.rule];
            assert.ok(rule.template && rule.source && rule.standing, `${name} ${check} ${step.rule}`);
            steps += 1;
          }
        }
      }
    });
  }
  assert.ok(steps > 1000, `${steps}`);
});

test('every number has its working, and the working comes to it', () => {
  let numbers = 0;
  for (const name of examples.filter((n) => !n.startsWith('sixty'))) {
    const job = example(name);
    core.judge(job).judgements.forEach((judgement, which) => {
      for (const { place, facts } of judgement.places) {
        for (const { fact, value } of facts) {
          if (value === null) continue;
          const steps = core.working(job, which, place, fact);
          const last = steps.at(-1);
          const there = last && bits(last.value) === bits(value);
          // By the impedance its own steps have; the fault level itself is handed on as it was stated.
          const close = fact === 'ipf-max' && steps.some((s) => Math.abs(s.value / value - 1) < 1e-6);
          const where = `${name} ${JSON.stringify(place)} ${fact} = ${value}: ${JSON.stringify(last)}`;
          assert.ok(there || close, where);
          numbers += 1;
        }
      }
    });
  }
  assert.ok(numbers > 1000, `${numbers}`);
});

test('a change that is offered makes the circuit pass', () => {
  let made = 0;
  for (const name of examples) {
    const job = example(name);
    if (job.circuits.length > 20) continue;
    for (const { id } of job.circuits) {
      for (const change of core.solve(job, 0, id).changes) {
        const changed = copy(job);
        for (const { path, value } of change.edits) set(changed, path, value);
        const { errors, judgements } = core.judge(changed);
        assert.deepEqual(errors, [], `${name} ${id} ${change.change}`);
        const here = judgements[0].places.find((p) => p.place.kind === 'circuit' && p.place.id === id);
        assert.equal(here.outcome, 'pass', `${name} ${id} ${change.change}`);
        made += 1;
      }
    }
  }
  assert.ok(made > 10, `${made}`);
});

// ---------------------------------------------------------------- what must not be believed

const keys = (path) => path.replaceAll('[', '.').replaceAll(']', '').split('.');

function get(root, path) {
  return path === '' ? root : keys(path).reduce((at, key) => at[key], root);
}

function set(root, path, value) {
  const all = keys(path);
  const last = all.pop();
  all.reduce((at, key) => at[key], root)[last] = value;
}

/** Path and value of everything in a job. */
function* everything(value, path = '') {
  yield [path, value];
  if (Array.isArray(value)) {
    for (let n = 0; n < value.length; n += 1) yield* everything(value[n], `${path}[${n}]`);
  } else if (value !== null && typeof value === 'object') {
    for (const key of Object.keys(value)) yield* everything(value[key], path === '' ? key : `${path}.${key}`);
  }
}

const REASONS = new Set([
  'not-a-number',
  'infinite',
  'negative',
  'zero',
  'too-large',
  'too-small',
  'not-made',
  'out-of-table',
  'missing',
  'direct-current',
  'dangling',
  'cycle',
  'too-many',
  'contradiction',
  'unknown-field',
  'wrong-kind',
  'no-such-choice',
  'used-twice',
  'newer-version',
]);

/** Judges something bad: typed errors, no pass, finite figures, and the same errors as native where JSON can say it. */
function judged(job) {
  const answer = core.judge(job);
  for (const e of answer.errors) {
    assert.ok(REASONS.has(e.reason), `${e.path}: ${e.reason}`);
    // In words of its own, or in those the catalogue has for its reason.
    assert.ok((e.wrong === null ? WORDS.reasons[e.reason] : WORDS.wrong[e.wrong])?.length > 0, e.path);
    assert.ok((typeof e.field === 'number' ? WORDS.fields[e.field] : e.field)?.length > 0, e.path);
  }
  // The first file says the same, but of what stands about a place: that it does not read.
  const soon = first.judge(job);
  const seen = answer.errors.filter(({ path }) => !/^boards\[\d+\]\.site/.test(path));
  assert.equal(differs(soon.errors, seen), null);
  if (seen.length === answer.errors.length) assert.equal(differs(soon, answer), null);
  if (answer.errors.length > 0) assert.notEqual(answer.outcome, 'pass');
  for (const judgement of answer.judgements) {
    for (const { findings, facts } of judgement.places) {
      for (const f of findings) {
        for (const v of [f.value, f.limit, f.margin]) assert.ok(v === null || Number.isFinite(v), `${f.check}: ${v}`);
        if (f.outcome === 'cannot-say') assert.notEqual(f.lacking, 0, `${f.check} lacks nothing`);
      }
      for (const f of facts) assert.ok(f.value === null || Number.isFinite(f.value), f.fact);
    }
  }
  return answer;
}

/** How a circuit came out. */
const outcome = (answer, id) =>
  answer.judgements[0]?.places.find((p) => p.place.kind === 'circuit' && p.place.id === id)?.outcome;

/** The findings of a circuit by check. */
const findingsOf = (answer, id) =>
  Object.fromEntries(
    answer.judgements[0].places
      .find((p) => p.place.kind === 'circuit' && p.place.id === id)
      .findings.map((f) => [f.check, f]),
  );

const base = example('observatory.json');
const plain = core.judge(base);

test('a field nobody knows is refused with its path, and the rest is judged', () => {
  const questions = [];
  for (const [path, value] of everything(base)) {
    if (value === null || typeof value !== 'object' || Array.isArray(value)) continue;
    const job = copy(base);
    get(job, path).colour = 'green';
    const answer = judged(job);
    const where = path === '' ? 'colour' : `${path}.colour`;
    const found = answer.errors.filter((e) => e.path === where);
    assert.deepEqual(
      found.map((e) => e.reason),
      ['unknown-field'],
      where,
    );
    const touched = path.match(/^circuits\[(\d+)\]/);
    if (touched) {
      // The others come out as before, but those that hang on it.
      const bad = Number(touched[1]);
      assert.equal(outcome(answer, base.circuits[bad].id), 'cannot-say', where);
      const feeds = base.boards.some((b) => b.fed_by === base.circuits[bad].id);
      if (!feeds) {
        base.circuits.forEach(({ id }, n) => {
          if (n !== bad && base.circuits[n].use !== 'distribution') {
            const [before, after] = [plain, answer].map((a) => findingsOf(a, id));
            assert.deepEqual(Object.keys(after), Object.keys(before));
            for (const [check, { outcome, lacking }] of Object.entries(after)) {
              // The drop of the feed, and so of all behind it, rests on the load of every circuit.
              const rests = check === 'volt-drop' && WORDS.lacking[Math.log2(lacking)]?.startsWith('Something further up');
              if (!rests) assert.equal(outcome, before[check].outcome, `${where}, ${id}, ${check}`);
            }
          }
        });
      }
    }
    questions.push({ ask: 'read', inputs: { job } });
  }
  assert.ok(questions.length > 30);
  both(questions);
});

test('no value of any field is believed that is none', () => {
  const bad = [NaN, Infinity, -Infinity, -1, 0, -0, 1e-30, 1e30, 1e300, 'text', '', true, [], {}, undefined, 5e-324];
  const say = { notANumber: 0, infinite: 0, negative: 0, zero: 0, kind: 0 };
  const questions = [];
  for (const [path, value] of everything(base)) {
    if (path === '') continue;
    for (const v of bad) {
      const job = copy(base);
      set(job, path, v);
      const answer = judged(job);
      const own = answer.errors.filter((e) => e.path === path).map((e) => e.reason);
      if (typeof value === 'number' && !path.endsWith('phases') && path !== 'version') {
        if (Number.isNaN(v) && own.includes('not-a-number')) say.notANumber += 1;
        if (v === Infinity && own.includes('infinite')) say.infinite += 1;
        if (v === -1 && own.includes('negative')) say.negative += 1;
        if (v === 0 && own.includes('zero')) say.zero += 1;
        if (v === 'text' && (own.includes('wrong-kind') || own.includes('no-such-choice'))) say.kind += 1;
        if (Number.isNaN(v) || v === Infinity || v === 'text' || v === -1) {
          // Below zero only a temperature has a meaning.
          const fine = v === -1 && /ambient|operating_limit/.test(path);
          if (!fine) assert.ok(own.length > 0, `${path} = ${v} is taken`);
        }
        const inCircuit = path.match(/^circuits\[(\d+)\]/);
        if (inCircuit && own.length > 0) {
          const hit = Number(inCircuit[1]);
          assert.equal(outcome(answer, base.circuits[hit].id), 'cannot-say', `${path} = ${v}`);
          const other = base.circuits.findIndex(
            (c, n) => n !== hit && c.use !== 'distribution' && c.board === base.circuits[hit].board,
          );
          if (other >= 0) assert.notEqual(outcome(answer, base.circuits[other].id), undefined);
        }
      }
      if (JSON.stringify(v) !== undefined && !(typeof v === 'number' && !Number.isFinite(v))) {
        questions.push({ ask: 'read', inputs: { job } });
      }
    }
  }
  for (const [name, count] of Object.entries(say)) assert.ok(count > 40, `${name}: ${count}`);
  both(questions);
});

test('a field left out is as null, or missing; never a default that passes unseen', () => {
  const questions = [];
  for (const [path] of everything(base)) {
    if (path === '' || path.endsWith(']')) continue;
    const job = copy(base);
    const at = keys(path);
    const last = at.pop();
    delete at.reduce((o, key) => o[key], job)[last];
    const without = judged(job);
    const nulled = copy(base);
    set(nulled, path, null);
    assert.equal(differs(without, judged(nulled)), null, path);
    questions.push({ ask: 'judge', inputs: { job } });
  }
  both(questions);
});

test('not a job at all', () => {
  for (const nothing of [null, undefined, 1, NaN, 'x', true, [], {}, [base], { format: 'faultpath-job' }]) {
    const answer = judged(nothing);
    assert.equal(answer.outcome, 'cannot-say');
    assert.ok(answer.errors.length > 0);
  }
  assert.equal(judged({ ...base, format: 'job' }).outcome, 'cannot-say');
  const newer = judged({ ...base, version: 2 });
  assert.deepEqual(
    newer.errors.map((e) => [e.path, e.reason]),
    [['version', 'newer-version']],
  );
  // Plain data only, and not without end.
  const knot = copy(base);
  knot.supply.device = knot;
  for (const odd of [knot, { ...base, name: () => 1 }, { ...base, name: Symbol('x') }]) {
    assert.throws(() => core.judge(odd), Error);
  }
  let deep = 1;
  for (let n = 0; n < 2000; n += 1) deep = [deep];
  assert.throws(() => core.judge({ ...base, notes: deep }), Error);
  // And the module is none the worse for it.
  assert.equal(differs(core.judge(base), plain), null);
});

test('a hundred and twenty-eight circuits are judged, one more is refused', () => {
  const many = (count) => {
    const job = copy(base);
    const final = job.circuits.find((c) => c.use !== 'distribution');
    while (job.circuits.length < count) job.circuits.push({ ...copy(final), id: `more-${job.circuits.length}` });
    return job;
  };
  const full = judged(many(128));
  assert.deepEqual(full.errors, []);
  assert.equal(full.judgements[0].places.filter((p) => p.place.kind === 'circuit').length, 128);
  const over = judged(many(129));
  assert.deepEqual(
    over.errors.map((e) => [e.path, e.reason]),
    [['circuits', 'too-many']],
  );
  assert.notEqual(over.outcome, 'pass');
  assert.equal(outcome(over, base.circuits[0].id), outcome(full, base.circuits[0].id));

  const boards = copy(base);
  while (boards.boards.length < 33)
    boards.boards.push({ ...copy(base.boards[0]), id: `more-${boards.boards.length}`, fed_by: null });
  assert.ok(judged(boards).errors.some((e) => e.path === 'boards' && e.reason === 'too-many'));

  const sections = copy(base);
  while (sections.circuits[0].sections.length < 7)
    sections.circuits[0].sections.push(copy(base.circuits[0].sections[0]));
  assert.ok(judged(sections).errors.some((e) => e.path === 'circuits[0].sections[6]' && e.reason === 'too-many'));

  const wide = copy(base);
  for (let n = 0; n < 70; n += 1) wide.supply[`x${n}`] = n;
  assert.ok(judged(wide).errors.some((e) => e.path === 'supply'));
  both([many(128), many(129), boards, sections, wide].map((job) => ({ ask: 'judge', inputs: { job } })));
});

test('references that dangle, run in a circle, or fit nothing', () => {
  const feed = base.circuits.findIndex((c) => c.use === 'distribution');
  const final = base.circuits.findIndex((c) => c.use !== 'distribution');
  const fed = base.boards.findIndex((b) => b.fed_by === base.circuits[feed].id);
  assert.ok(feed >= 0 && final >= 0 && fed >= 0);
  const cases = [
    [
      'a board that is not there',
      (j) => {
        j.circuits[final].board = 'nowhere';
      },
      `circuits[${final}].board`,
      'dangling',
    ],
    [
      'a feed that is not there',
      (j) => {
        j.boards[fed].fed_by = 'nowhere';
      },
      `boards[${fed}].fed_by`,
      'dangling',
    ],
    [
      'a board that feeds itself',
      (j) => {
        j.circuits[feed].board = j.boards[fed].id;
      },
      `boards[${fed}].fed_by`,
      'cycle',
    ],
    [
      'fed by a final circuit',
      (j) => {
        j.boards[fed].fed_by = j.circuits[final].id;
      },
      `boards[${fed}].fed_by`,
      'contradiction',
    ],
    [
      'a board of no name',
      (j) => {
        j.circuits[final].board = '';
      },
      `circuits[${final}].board`,
      'missing',
    ],
    [
      'the same name twice',
      (j) => {
        j.circuits[final].id = j.circuits[feed].id;
      },
      `circuits[${Math.max(final, feed)}].id`,
      'used-twice',
    ],
    [
      'no name',
      (j) => {
        j.circuits[final].id = '';
      },
      `circuits[${final}].id`,
      'wrong-kind',
    ],
    [
      'no sections',
      (j) => {
        j.circuits[final].sections = [];
      },
      `circuits[${final}].sections`,
      'missing',
    ],
    [
      'a spur only',
      (j) => {
        j.circuits[final].sections.forEach((s) => {
          s.part = 'spur';
        });
      },
      `circuits[${final}].sections`,
      'missing',
    ],
    [
      'three phases of one',
      (j) => {
        j.circuits[final].phase = 'three';
      },
      `circuits[${final}].phase`,
      'contradiction',
    ],
    [
      'a size not made',
      (j) => {
        j.circuits[final].sections[0].csa = 3;
      },
      `circuits[${final}].sections[0].csa`,
      'not-made',
    ],
    [
      'a rating not made',
      (j) => {
        j.circuits[final].device.rating = 7;
      },
      `circuits[${final}].device.rating`,
      'not-made',
    ],
    [
      'direct current',
      (j) => {
        j.supply.current = 'dc';
      },
      'supply.current',
      'direct-current',
    ],
  ];
  const questions = [];
  for (const [name, edit, path, reason] of cases) {
    const job = copy(base);
    edit(job);
    const answer = judged(job);
    assert.ok(
      answer.errors.some((e) => e.path === path && e.reason === reason),
      `${name}: ${JSON.stringify(answer.errors)}`,
    );
    questions.push({ ask: 'judge', inputs: { job } });
  }
  // Two boards, each fed from the other.
  const ring = copy(base);
  const second = { ...copy(base.boards[fed]), id: 'second', fed_by: 'second-feed' };
  ring.boards.push(second);
  ring.circuits.push({ ...copy(base.circuits[feed]), id: 'second-feed', board: base.boards[fed].id });
  ring.circuits[feed].board = 'second';
  const answer = judged(ring);
  assert.equal(answer.errors.filter((e) => e.reason === 'cycle').length, 2, JSON.stringify(answer.errors));
  questions.push({ ask: 'judge', inputs: { job: ring } });
  // A chain of boards, one deeper than is walked.
  const chain = copy(base);
  for (let n = 0, above = base.boards[fed].id; n < 9; n += 1) {
    chain.circuits.push({ ...copy(base.circuits[feed]), id: `feed-${n}`, board: above });
    chain.boards.push({ ...copy(base.boards[fed]), id: `deep-${n}`, fed_by: `feed-${n}` });
    above = `deep-${n}`;
  }
  const deep = judged(chain);
  assert.ok(deep.errors.some((e) => e.reason === 'too-many'));
  assert.equal(deep.outcome === 'pass', false);
  questions.push({ ask: 'judge', inputs: { job: chain } });
  both(questions);
});

/** An answer of a turn made whole by the last of its kind: `true` is a list or named values as they were. */
function made(came, last) {
  const was = last !== null && typeof last === 'object' ? last : {};
  if (came === true && was === last) return last;
  if (came === null || typeof came !== 'object') return came;
  const all = Object.entries(came).map(([key, value]) => [key, made(value, was[key])]);
  return Array.isArray(came) ? all.map(([, value]) => value) : Object.fromEntries(all);
}

/** Asks in turns. */
function inTurns(file) {
  let last = {};
  return (what, job, turn) => {
    const came = file[what](job, turn);
    if (turn === 1) last = {};
    last[what] = made(came, last[what]);
    return last[what];
  };
}

test('what was read in the turn before need not come again, and the answer is the same to the last bit', () => {
  const job = example('sixty-circuits.json');
  const places = job.circuits.map((_, at) => at);
  for (const file of [first, core]) {
    const whole = file.judge(job);
    const ask = inTurns(file);
    const judge = (of, turn) => ask('judge', of, turn);
    assert.equal(differs(judge(job, 1), whole), null);
    assert.equal(differs(judge({ ...job, circuits: places }, 2), whole), null);
    // Another order, one gone, one changed, one new.
    const [a, b, c, ...rest] = job.circuits;
    const changed = { ...b, sections: b.sections.map((s) => ({ ...s, length: 2 * s.length })) };
    const fresh = { ...a, id: 'fresh' };
    const next = { ...job, circuits: [c, changed, ...rest.slice(1), fresh] };
    const answer = judge({ ...job, circuits: [2, changed, ...places.slice(4), fresh] }, 3);
    assert.equal(differs(answer, file.judge(next)), null);
    // Bad ones keep their place.
    const last = next.circuits.length - 1;
    const bad = { ...c, colour: 'green' };
    const odd = judge({ ...job, circuits: [...places.slice(1, last + 1), bad] }, 4);
    assert.ok(odd.errors.some(({ path }) => path === `circuits[${last}].colour`));
    assert.equal(differs(odd, file.judge({ ...job, circuits: [...next.circuits.slice(1), bad] })), null);
    // A place that was not there, was asked for twice or is no place is no circuit. A turn left out is refused.
    for (const [turn, wrong] of [[5, 1000], [6, 1], [7, -1], [8, 0.5], [9, NaN]]) {
      const told = judge({ ...job, circuits: [0, 0, 1, wrong] }, turn);
      assert.notEqual(told.outcome, 'pass');
      assert.ok(told.errors.length > 0);
    }
    assert.throws(() => file.judge({ ...job, circuits: [] }, 11));
    assert.throws(() => file.judge({ ...job, circuits: [] }, 10));
    assert.ok(judge({ ...job, circuits: 1 }, 1).errors.length > 0);
    assert.ok(judge(1, 2).errors.length > 0);
    assert.equal(differs(judge(job, 1), whole), null);
    // Nothing is taken for known from before a first turn, nor is it told of what was asked outside of turns.
    assert.equal(differs(file.judge(job, 1), whole), null);
    assert.equal(file.judge(job, 2), true);
    assert.equal(differs(file.judge(job), whole), null);
    assert.equal(file.judge(job, 3), true);
  }
  const ask = inTurns(core);
  ask('judge', job, 1);
  assert.equal(differs(ask('readings', { ...job, circuits: places }, 2), core.readings(job)), null);
});

test('of an answer comes what is not as it was, and made whole it is the answer to the last bit', () => {
  let seed = 7;
  const below = (n) => (seed = (seed * 48271) % 2147483647) % n;
  const jobs = ['observatory.json', 'observatory-not-known.json', 'workshop-three-phase.json', 'mixed-rows.json'].map(example);
  for (const file of [first, core]) {
    const ask = inTurns(file);
    const kinds = file === core ? ['judge', 'readings'] : ['judge'];
    let job = copy(jobs[0]);
    for (let n = 0, turn = 1; n < 600; n += 1, turn = below(50) === 0 ? 1 : turn + 1) {
      // Mostly a value, at times a bad one; now and then another job.
      if (below(12) === 0) job = copy(jobs[below(jobs.length)]);
      const plain = [...everything(job)].filter(([, value]) => value === null || typeof value !== 'object');
      const [path, value] = plain[below(plain.length)];
      set(job, path, typeof value === 'number' ? value * [0.5, 1, 1.25, 3, -1][below(5)] : below(3) === 0 ? null : value);
      const kind = kinds[below(kinds.length)];
      assert.equal(differs(ask(kind, job, turn), file[kind](job)), null, `${n} ${path}`);
    }
  }
  // The length of one circuit is in no figure of the others.
  const job = example('sixty-circuits.json');
  core.judge(job, 1);
  const at = job.circuits.findIndex(({ use }) => use !== 'distribution');
  job.circuits[at].sections[0].length *= 1.01;
  const places = core.judge(job, 2).judgements[0].places;
  assert.deepEqual(places.filter((one) => one !== true).map(({ place }) => place), [true]);
});

test('a day of editing takes no more memory', () => {
  const job = example('sixty-circuits.json');
  const rounds = (count) => {
    for (let n = 0; n < count; n += 1) {
      job.circuits[n % 60].sections[0].length = 1 + (n % 97);
      core.judge(job);
      if (n % 50 === 0) core.solve(job, 0, job.circuits[n % 60].id);
      core.judge({ ...job, supply: n });
      if (n % 5 === 0) core.judge({ ...job, circuits: job.circuits.map((one, at) => (n === 0 || at === n % 60 ? one : at)) }, n / 5 + 1);
    }
    return memory.buffer.byteLength;
  };
  const soon = rounds(200);
  assert.equal(rounds(2000), soon);
});
