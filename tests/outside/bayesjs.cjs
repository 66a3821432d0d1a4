// Asks bayesjs (npm) about networks in UAI format: node bayesjs.cjs NETWORK EVIDENCE ...
// For each pair a line of JSON: P(evidence) of small ones, the marginals by variable and state, milliseconds.
// Run with NODE_PATH on the folder of its node_modules.
const { readFileSync } = require('fs');
const { inferences, inferAll } = require('bayesjs');

const kJoint = 8;  // variables up to which P(evidence) is asked for

function parse(file) {
  const words = readFileSync(file, 'utf8').split(/\s+/).filter(Boolean);
  let at = 1;  // after BAYES
  const next = () => Number(words[at++]);
  const list = (count) => Array.from({ length: count }, next);
  const cardinality = list(next());
  const scopes = Array.from({ length: next() }, () => list(next()));
  return { cardinality, factors: scopes.map((scope) => ({ scope, values: list(next()) })) };
}

// bayesjs names variables and states; a row of a table says when it holds.
function asBayesjs({ cardinality, factors }) {
  const network = {};
  for (const { scope, values } of factors) {
    const child = scope[scope.length - 1], parents = scope.slice(0, -1);
    const states = Array.from({ length: cardinality[child] }, (_, s) => String(s));
    const row = (r) => Object.fromEntries(states.map((s, i) => [s, values[r * states.length + i]]));
    const when = (r) => {
      const known = {};
      for (const parent of [...parents].reverse()) {
        known['v' + parent] = String(r % cardinality[parent]);
        r = Math.floor(r / cardinality[parent]);
      }
      return known;
    };
    const rows = values.length / states.length;
    network['v' + child] = {
      id: 'v' + child, states, parents: parents.map((p) => 'v' + p),
      cpt: parents.length === 0 ? row(0)
        : Array.from({ length: rows }, (_, r) => ({ when: when(r), then: row(r) })),
    };
  }
  return network;
}

function evidence(file) {
  const words = readFileSync(file, 'utf8').split(/\s+/).filter(Boolean);
  const given = {};
  for (let i = 1; i < words.length; i += 2) given['v' + words[i]] = words[i + 1];
  return given;
}

const files = process.argv.slice(2);
for (let i = 0; i + 1 < files.length; i += 2) {
  const graph = parse(files[i]);
  const network = asBayesjs(graph), given = evidence(files[i + 1]);
  const begin = process.hrtime.bigint();
  const all = inferAll(network, given, { precision: 12 });
  const ms = Number(process.hrtime.bigint() - begin) / 1e6;
  // Its junction tree is right for one variable only; joint probabilities by its elimination, which
  // takes minutes from a dozen variables on.
  const known = Object.keys(given).length > 0, small = graph.cardinality.length <= kJoint;
  const p = !small ? null : known ? inferences.variableElimination.infer(network, given) : 1;
  const marginals = graph.cardinality.map((states, v) =>
    Array.from({ length: states }, (_, s) => all['v' + v][String(s)]));
  console.log(JSON.stringify({ evidence: p, marginals, ms }));
}
