// npm start: install what is missing, build, serve on this machine only.
import { bin, build, installPackages } from './setup.mjs';

installPackages();
build();
console.log('\nZonewright is ready: open the address below in a browser. Ctrl+C ends it.\n');
process.exit(bin('vite', ['preview', '--port', process.env.PORT ?? '4173']));
