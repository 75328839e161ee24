/** The kerf test piece of a profile as the files of a job folder. */
import { drawCoupon } from "../crafts/leather-inlay/coupon.ts";
import { couponSheet } from "../crafts/leather-inlay/coupon-sheet.ts";
import type { PaperFonts } from "../formats/pdf/faces.ts";
import { boundsHeight, boundsWidth } from "../geometry/bounds.ts";
import { drawingFiles } from "./drawing-files.ts";
import type { WrittenFile } from "./job-files.ts";
import type { JobManifest } from "./job-manifest.ts";
import { type Profile, profileInWords, profileUsed } from "./profile.ts";
import { SHEET_FILES, sheetFiles } from "./sheet-files.ts";

export function makeCouponFiles(
  profile: Profile,
  tool: JobManifest["tool"],
  sha256: (content: string | Uint8Array) => string,
  fonts: () => PaperFonts,
): { readonly manifest: JobManifest; readonly files: readonly WrittenFile[] } {
  const drawing = drawCoupon([
    `${profile.title}: kerf test piece. Unit: mm. Set no compensation on the machine.`,
    ...profile.cautions,
    profile.standingLine,
  ]);
  const planned = drawingFiles("coupon", drawing, "the test piece", []);
  const sheet = couponSheet(
    drawing,
    profileInWords(profile),
    [...planned, ...SHEET_FILES].map(({ path, purpose }) => ({ name: path, purpose })),
    `${tool.name} ${tool.version} · profile ${profile.name}`,
  );
  const written = [
    ...planned.map((file) => ({ ...file, content: file.content(fonts) })),
    ...sheetFiles(sheet, fonts),
  ];
  const manifest: JobManifest = {
    plaitwrightJob: 1,
    tool,
    title: drawing.title,
    profile: profileUsed(profile),
    size: { width: boundsWidth(drawing.bounds), height: boundsHeight(drawing.bounds) },
    counts: { pairs: drawing.layers.find(({ name }) => name === "POCKET")?.paths.length ?? 0 },
    checks: [],
    files: written.map(({ path, kind, purpose, content }) => ({
      path,
      kind,
      purpose,
      sha256: sha256(content),
    })),
    layers: drawing.layers.map(({ name, purpose, paths }) => ({ name, purpose, entities: paths.length })),
    cautions: profile.cautions,
    standingLine: profile.standingLine,
  };
  const files: WrittenFile[] = written.map(({ path, content }) => ({ path, content }));
  return {
    manifest,
    files: [...files, { path: "job.json", content: `${JSON.stringify(manifest, null, 2)}\n` }],
  };
}
