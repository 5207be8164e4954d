// Page of all rigs: search, filters and order of the list, what is due as of today, and the matrix as small cells.
// What is asked for stands in the address; all data are read once from the page itself.
(function () {
  'use strict';
  const DAY = 864e5;
  const SOON = 60;
  const ROWS = 40;
  const LINES = 8;
  const MONTHS = 'Jan Feb Mar Apr May Jun Jul Aug Sep Oct Nov Dec'.split(' ');
  const all = (what, under) => Array.from((under || document).querySelectorAll(what));
  const one = (what, under) => (under || document).querySelector(what);
  const made = (tag, names, ...kids) => {
    const node = document.createElement(tag);
    Object.entries(names || {}).forEach(([name, value]) => node.setAttribute(name, value));
    node.append(...kids);
    return node;
  };
  const day = (text) => {
    const [d, m, y] = text.split(' ');
    return Date.UTC(+y, MONTHS.indexOf(m), +d) / DAY;
  };
  const words = (number) => {
    const at = new Date(number * DAY);
    return at.getUTCDate() + '\u00a0' + MONTHS[at.getUTCMonth()] + '\u00a0' + at.getUTCFullYear();
  };
  const today = () => {
    const now = new Date();
    return Date.UTC(now.getFullYear(), now.getMonth(), now.getDate()) / DAY;
  };
  const count = (number, word) => number + ' ' + word + (number === 1 ? '' : 's');

  // The list
  const list = one('.rigs');
  const letters = new Map(all('#letters > div').map((pair) => [pair.firstChild.textContent, pair.lastChild.textContent]));
  const heads = list ? all('thead th', list).map((head) => head.textContent) : [];
  const read = (row, place) => {
    const due = [];
    const told = row.cells[row.cells.length - 2];
    let without = 0;
    told.textContent.trim().split('; ').forEach((part) => {
      const found = /^(.+) (\d+ [A-Z][a-z]{2} \d{4})$/.exec(part);
      if (found) due.push({ day: day(found[2]), names: found[1].split(' + ').map((name) => letters.get(name) || name) });
      else without = parseInt(part, 10) || 0;
    });
    const head = row.cells[0].firstChild;
    const name = head.textContent;
    all('td:last-child a', row).forEach((link) => {
      const [to, what] = {
        Cards: ['#cards', 'Cards of '],
        Measure: ['measure.html', 'Measure what is missing of '],
        Sheet: ['measuring-sheet.pdf', 'Sheet to measure '],
      }[link.textContent];
      link.href = to[0] === '#' ? head.getAttribute('href') + to : head.getAttribute('href').replace(/[^/]*$/, to);
      link.setAttribute('aria-label', what + name);
    });
    Array.from(row.cells).slice(2, -2).forEach((cell, at) => { cell.dataset.l = cell.dataset.l || heads[at + 2]; });
    return {
      row, place, name, due, without, told, group: row.className, href: head.getAttribute('href') || '',
      text: (name + ' ' + one('p', row).textContent).toLowerCase(),
    };
  };
  let now = today();
  const DUE = {
    '': ['any', () => true],
    now: ['overdue', (rig) => rig.due.length > 0 && rig.due[0].day <= now],
    soon: ['in ' + SOON + ' days', (rig) => rig.due.some((due) => due.day > now && due.day <= now + SOON)],
    none: ['without a date', (rig) => rig.without > 0],
  };
  const next = (rig) => (rig.due.length ? rig.due[0].day : Infinity);
  const ORDERS = {
    '': ['worst first', (a, b) => a.place - b.place],
    name: ['name', (a, b) => a.name.localeCompare(b.name)],
    due: ['next due', (a, b) => next(a) - next(b) || a.place - b.place],
  };

  const start = () => {
    list.classList.add('live');
    const rigs = all('tbody tr', list).map(read);
    const outcomes = { '': ['all', () => true] };
    all('#counts > [data-o]').forEach((told) => {
      const group = told.dataset.o;
      outcomes[group] = [told.textContent.replace(/^\d+ /, ''), (rig) => rig.group === group];
    });
    const asked = () => {
      const found = new URLSearchParams(location.hash.slice(1));
      const known = (name, of) => (Object.hasOwn(of, found.get(name) || '') ? found.get(name) || '' : '');
      return { q: found.get('q') || '', o: known('o', outcomes), d: known('d', DUE), s: known('s', ORDERS) };
    };
    const address = (state) => {
      const kept = Object.entries(state).filter(([, value]) => value);
      return '#' + (kept.length ? new URLSearchParams(kept) : 'q=');
    };
    let state = asked();
    let order = '';
    let whole = false;
    const open = new Set();

    const search = made('input', { type: 'search', id: 'q', autocomplete: 'off', spellcheck: 'false' });
    const sort = made('select', { id: 's' }, ...Object.entries(ORDERS).map(([key, [text]]) => made('option', { value: key }, text)));
    const choice = (key, title, of) => {
      const links = Object.entries(of).map(([value, [text]]) => [value, text, made('a')]);
      one('#find').append(made('div', { class: 'choice', role: 'group', 'aria-label': title }, made('p', {}, title), ...links.map((link) => link[2])));
      return (base) => links.forEach(([value, text, link]) => {
        const number = base.filter(of[value][1]).length;
        link.textContent = text + ' ' + number;
        link.setAttribute('href', address({ ...state, [key]: value }));
        if (state[key] === value) link.setAttribute('aria-current', 'true');
        else link.removeAttribute('aria-current');
      });
    };
    one('#find').append(made('p', { class: 'field' }, made('label', { for: 'q' }, 'Search'), search));
    const outcome = choice('o', 'Outcome', outcomes);
    const time = choice('d', 'Due', DUE);
    one('#find').append(made('p', { class: 'field' }, made('label', { for: 's' }, 'Order'), sort));
    const jumps = made('p', { class: 'jumps' }, made('a', { href: '#due' }, 'Due list'));
    if (one('#match')) jumps.append(made('a', { href: '#match' }, 'Matches'));
    const found = made('p', { role: 'status', class: 'note' });
    one('#find').append(jumps, found);
    one('#counts').parentNode.hidden = true;
    all('#letters, #rigs .note').forEach((node) => { node.hidden = true; });
    one('#rigs .scroll').classList.remove('scroll');
    one('#due').hidden = false;

    const say = (rig) => {
      const past = rig.due.filter((due) => due.day <= now);
      const first = rig.due[0];
      rig.told.classList.toggle('late', past.length > 0);
      if (!first) rig.told.textContent = rig.without ? 'No dates yet' : '';
      else {
        const more = past.reduce((sum, due) => sum + due.names.length, 0) - first.names.length;
        rig.told.replaceChildren(
          made('b', {}, (past.length ? 'Overdue since ' : 'Next due ') + words(first.day)),
          ' ' + first.names.join(', ') + (more > 0 ? ' and ' + more + ' more' : ''),
        );
      }
    };
    const lines = (title, key, dues) => {
      const box = made('div', {}, made('h3', {}, title + ' ', made('span', {}, String(dues.length))));
      const shown = open.has(key) ? dues : dues.slice(0, LINES);
      box.append(made('ul', {}, ...shown.map(({ at, name, rig }) => made('li', {},
        made('b', {}, words(at)), rig.href ? made('a', { href: rig.href + '#due' }, rig.name) : rig.name, made('span', {}, name)))));
      if (shown.length < dues.length) {
        const button = made('button', { type: 'button' }, 'Show ' + (dues.length - shown.length) + ' more');
        button.addEventListener('click', () => {
          open.add(key);
          draw();
          one('#due [data-k=' + key + '] li:nth-child(' + (LINES + 1) + ') a').focus();
        });
        box.append(button);
      }
      box.dataset.k = key;
      return box;
    };
    const calendar = (some) => {
      const dues = some.flatMap((rig) => rig.due.flatMap((due) => due.names.map((name) => ({ at: due.day, name, rig }))));
      dues.sort((a, b) => a.at - b.at || a.rig.place - b.rig.place);
      const left = some.reduce((sum, rig) => sum + rig.without, 0);
      all('#due > :not(h2)').forEach((node) => node.remove());
      one('#due').append(
        made('p', { class: 'note' }, 'As of today, ' + words(now) + ', by the clock of this device' + (some.length < rigs.length ? '; of ' + count(some.length, 'rig') + ' looked for' : '')),
        lines('Overdue', 'now', dues.filter((due) => due.at <= now)),
        lines('In the next ' + SOON + ' days', 'soon', dues.filter((due) => due.at > now && due.at <= now + SOON)),
        lines('Later', 'later', dues.filter((due) => due.at > now + SOON)),
      );
      if (left) {
        one('#due').append(made('p', {}, made('a', { class: 'alone', href: address({ ...state, d: 'none' }) }, count(left, 'service')), ' without any date.'));
      }
    };
    const draw = () => {
      const terms = state.q.toLowerCase().split(/\s+/).filter(Boolean);
      const named = rigs.filter((rig) => terms.every((term) => rig.text.includes(term)));
      const [isOutcome, isDue] = [outcomes[state.o][1], DUE[state.d][1]];
      const right = named.filter(isOutcome);
      const shown = new Set(right.filter(isDue));
      outcome(named.filter(isDue));
      time(right);
      if (order !== state.s) {
        order = state.s;
        list.tBodies[0].append(...rigs.sort(ORDERS[order][1]).map((rig) => rig.row));
      }
      let seen = 0;
      rigs.forEach((rig) => {
        const here = shown.has(rig);
        rig.row.hidden = !here;
        seen += here ? 1 : 0;
        rig.row.classList.toggle('beyond', here && !whole && seen > ROWS);
      });
      const more = whole ? 0 : Math.max(0, seen - ROWS);
      one('#more').hidden = !more;
      one('#more button').textContent = 'Show ' + more + ' more';
      found.textContent = shown.size === rigs.length ? count(rigs.length, 'rig') : shown.size + ' of ' + count(rigs.length, 'rig');
      if (search.value !== state.q) search.value = state.q;
      sort.value = state.s;
      calendar(right);
    };
    const change = (some) => {
      state = { ...state, ...some };
      whole = false;
      history.replaceState(null, '', address(state));
      draw();
    };
    search.addEventListener('input', () => change({ q: search.value }));
    sort.addEventListener('change', () => change({ s: sort.value }));
    addEventListener('hashchange', () => {
      if (!location.hash.includes('=')) return;
      state = asked();
      whole = false;
      draw();
    });
    one('#more button').addEventListener('click', () => {
      const first = one('.beyond th a', list);
      whole = true;
      draw();
      if (first) first.focus();
    });
    document.addEventListener('visibilitychange', () => {
      if (now === today()) return;
      now = today();
      rigs.forEach(say);
      draw();
    });
    rigs.forEach(say);
    draw();
    if (location.hash && one('#due, #match') && !location.hash.includes('=')) {
      const to = document.getElementById(location.hash.slice(1));
      if (to) to.scrollIntoView();
    }
  };

  // The matrix
  const matrix = () => {
    const table = one('.matrix');
    const told = one('#pair');
    const rows = all('tbody tr', table).map((row) => all('td', row));
    const heads = all('thead th', table);
    const hrefs = new Map(all('.rigs th a').map((link) => [link.textContent, link.getAttribute('href')]));
    let at = null;
    table.classList.add('cells');
    table.setAttribute('role', 'grid');
    table.closest('.scroll').removeAttribute('tabindex');
    told.hidden = false;
    one('.legend').hidden = false;
    const pick = (cell) => {
      if (cell === at) return;
      if (at) {
        at.tabIndex = -1;
        all('.at', table).forEach((node) => node.classList.remove('at'));
      }
      at = cell;
      const head = heads[cell.cellIndex - 1];
      [cell, cell.parentNode.cells[0], head].forEach((node) => node.classList.add('at'));
      cell.tabIndex = 0;
      const own = one('i', cell);
      told.className = cell.className.replace(/ .*/, '');
      told.replaceChildren(
        made('b', {}, cell.parentNode.cells[0].textContent + ' with ' + head.textContent), ' ',
        one('b', cell).textContent + ' ' + one('span', cell).textContent,
      );
      if (own) {
        const href = hrefs.get(own.textContent);
        told.append('. Your rig ', href ? made('a', { href, class: 'alone' }, own.textContent) : own.textContent);
      }
    };
    const move = { ArrowLeft: [0, -1], ArrowRight: [0, 1], ArrowUp: [-1, 0], ArrowDown: [1, 0], Home: [0, -1e4], End: [0, 1e4] };
    table.addEventListener('keydown', (event) => {
      const step = move[event.key];
      if (!step || event.target.tagName !== 'TD') return;
      event.preventDefault();
      const clamp = (value, most) => Math.min(Math.max(value, 0), most - 1);
      const y = clamp(rows.findIndex((row) => row.includes(event.target)) + step[0], rows.length);
      rows[y][clamp(event.target.cellIndex - 1 + step[1], heads.length)].focus();
    });
    ['pointerover', 'click', 'focusin'].forEach((kind) => table.addEventListener(kind, (event) => {
      const cell = event.target.closest('tbody td');
      if (cell) pick(cell);
    }));
    rows.flat().forEach((cell) => { cell.tabIndex = -1; });
    rows[0][0].tabIndex = 0;
  };
  if (list) start();
  if (one('.matrix')) matrix();
})();
