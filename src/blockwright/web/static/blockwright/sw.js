// Served from /sw.js. Until the phone page brings its own, it keeps nothing and changes nothing.
// The server fills this list with the addresses of the page's scripts and styles.

const FILES = [];
