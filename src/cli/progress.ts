/** What long work is doing, on a terminal only, and gone when it is done. */
import { Presets, SingleBar } from "cli-progress";
import type { Progress } from "../documents/craft.ts";

/** Shows a bar on standard error while `work` goes on; nothing where nobody watches. */
export function withProgress<T>(silent: boolean, work: (progress: Progress) => T): T {
  if (silent || !process.stderr.isTTY) return work(() => {});
  const bar = new SingleBar(
    {
      format: "  {stage} {bar} {percentage} %",
      clearOnComplete: true,
      barsize: 24,
      // A listener for interrupts would wait for the work to end; without one the process ends at
      // once, and what was changed in the terminal would stay changed.
      gracefulExit: false,
      linewrap: true,
      hideCursor: false,
    },
    Presets.shades_classic,
  );
  let running = false;
  try {
    return work((stage, share) => {
      if (!running) bar.start(100, 0, { stage });
      running = true;
      bar.update(Math.round(share * 100), { stage });
      // The work leaves no time between its steps: the bar is drawn here.
      bar.render();
    });
  } finally {
    if (running) bar.stop();
  }
}
