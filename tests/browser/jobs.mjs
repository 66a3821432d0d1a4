// The worked jobs of cases/, played so far that their sheets can be written.
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import path from 'node:path';

// commands that only tell are left out: they cost time and change nothing
const ENTERS = new Set(['open', 'record', 'strip', 'refit', 'repair', 'verify', 'strike', 'note',
  'finish', 'work']);

// [{ line, typed }]: the commands of a session that add to its job, with what was typed at prompts.
function entering(session) {
  const commands = [];
  for (const line of readFileSync(session, 'utf8').split('\n')) {
    const last = commands.at(-1);
    if (line.startsWith('$ ')) commands.push({ line: line.slice(2), typed: '' });
    else if (line.startsWith('> ') && line.length > 2 && last) last.typed += line.slice(2) + '\n';
  }
  return commands.filter(({ line }) => ENTERS.has(line.split(' ')[1]));
}

export class Jobs {
  constructor(program, source, folder) {
    this.source = source;
    this.folder = folder;
    this.environment = {
      PATH: `${path.dirname(program)}:${process.env.PATH}`,
      TICKOVER_KNOWLEDGE: path.join(source, 'knowledge'),
      SOURCE_DATE_EPOCH: '1772442000',
      TZ: 'UTC',
    };
  }

  run(line, typed = '', more = {}) {
    return execFileSync('/bin/sh', ['-c', line],
      { cwd: this.folder, env: { ...this.environment, ...more }, input: typed, stdio: ['pipe', 'pipe', 'pipe'] });
  }

  // Some lines of a session are refused on purpose; what is refused adds nothing.
  play(name) {
    for (const { line, typed } of entering(path.join(this.source, 'cases', `${name}.session`))) {
      try {
        this.run(line, typed);
      } catch (refused) {
        if (refused.status !== 2) throw refused;
      }
    }
  }

  // The sheet as a file; its path.
  sheet(job, reader, language) {
    const file = `${job}-${reader}-${language}.html`;
    this.run(`tickover sheet ${job}.job --for ${reader} --language ${language} --html ${file}`);
    return path.join(this.folder, file);
  }
}
