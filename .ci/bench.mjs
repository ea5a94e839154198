// npm run bench: ratios within one run, for people to read; never part of the tests.
import { bin, build, installBrowser, installPackages } from './setup.mjs';

installPackages();
installBrowser();
build();
process.exit(bin('tsx', ['tests/bench/main.ts']));
