// Added to the page of workings.
(function () {
  'use strict';
  const { all, byId } = rig;

  // Workings: only what holds a word; everything opened before it is printed.
  function find() {
    const box = byId('f-box');
    box.closest('.find').hidden = false;
    const rows = all('.fold, .words > div, #labels tbody tr');
    const texts = rows.map((row) => row.textContent.toLowerCase());
    box.addEventListener('input', () => {
      const asked = box.value.trim().toLowerCase();
      rows.forEach((row, i) => { row.hidden = asked !== '' && !texts[i].includes(asked); });
      byId('f-said').textContent = asked ? rows.filter((row) => !row.hidden).length + ' of ' + rows.length : '';
    });
    byId('f-print').addEventListener('click', () => {
      all('details').forEach((one) => { one.open = true; });
      window.print();
    });
  }

  find();
})();
