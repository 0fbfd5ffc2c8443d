import { serveFolder } from './static-server.ts';

const PORT = Number(process.argv[2] ?? 4173);

serveFolder(PORT).then(
  () => {
    console.log(`Tendbook:  http://localhost:${PORT}/`);
    console.log(`The demo:  http://localhost:${PORT}/#/demo`);
    console.log('Stop it with Ctrl+C.');
  },
  (error: NodeJS.ErrnoException) => {
    console.error(error.code === 'EADDRINUSE' ? `Port ${PORT} is in use. Stop the other program, then try again.` : error.message);
    process.exit(1);
  },
);
