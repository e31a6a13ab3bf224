/** Whoever kills npm means the service that it runs, which would not hear of it otherwise. */
export function endWithNpm() {
  if (process.env.npm_lifecycle_event === undefined) return;
  const npm = process.ppid;
  const watch = setInterval(() => {
    if (process.ppid === npm) return;
    clearInterval(watch);
    process.kill(process.pid, 'SIGTERM');
  }, 500);
  watch.unref();
}
