// Sends the address of a printed card, and every name of old, on to the page that has it now.
(function () {
  'use strict';
  const moved = JSON.parse(document.getElementById('card-data').textContent);
  const own = (table, name) => (Object.prototype.hasOwnProperty.call(table, name) ? table[name] : '');
  const letter = new URLSearchParams(location.search).get('c');
  const hash = location.hash;
  const name = hash.slice(1);
  const start = Object.keys(moved.starts).find((text) => name.startsWith(text));
  const to = (letter && own(moved.letters, letter)) || own(moved.names, name) || (start && moved.starts[start]) || 'use.html';
  const [page, view] = to.split('#');
  location.replace(page + location.search + (view ? '#' + view : hash));
})();
