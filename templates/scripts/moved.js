// The link to the page of the new name keeps what a printed card says of itself.
(function () {
  'use strict';
  const link = document.getElementById('moved');
  link.href += location.search;
})();
