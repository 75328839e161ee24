import fc from "fast-check";
import { expect, test } from "vitest";
import { applyRemedy } from "../../../src/documents/apply-remedy.ts";
import { prepareJob } from "../../../src/documents/prepare-job.ts";
import { checkOf, leatherProfile, panelDesign, prepared } from "./inlay-case.ts";
import { plainPanel } from "../../support/plain-panel.ts";

const panelArb = fc.record({ p: fc.integer({min:1,max:4}), q: fc.integer({min:1,max:4}), breaks: fc.array(fc.record({r: fc.nat(), c: fc.nat(), k: fc.constantFrom("-","|")}), {maxLength:6}) }).map(({p,q,breaks}) => {
  const rows = plainPanel(p,q).map(r=>[...r]);
  const sites: [number,number][]=[];
  rows.forEach((row,r)=>row.forEach((ch,c)=>{ if(ch==="x") sites.push([r,c]); }));
  for (const b of breaks) { if (sites.length===0) continue; const s=sites[b.r%sites.length]; if (s) (rows[s[0]] as string[])[s[1]]=b.k; }
  return rows.map(r=>r.join(""));
});
const setArb = fc.record({
  pitch: fc.integer({min:4,max:30}),
  corner: fc.constantFrom("pointed","round") as fc.Arbitrary<"pointed"|"round">,
  way: fc.constantFrom("pieces","laced") as fc.Arbitrary<"pieces"|"laced">,
  width: fc.option(fc.integer({min:2,max:14}),{nil:undefined}),
  gap: fc.option(fc.integer({min:1,max:8}),{nil:undefined}),
  kerf: fc.constantFrom(0,0.1,0.2,0.4,1),
  clearance: fc.constantFrom(-0.4,-0.05,0,0.1,0.5),
  wpp: fc.constantFrom(0.15,0.3,0.42),
  gpp: fc.constantFrom(0.05,0.14,0.3),
  ease: fc.constantFrom(0,0.1,0.3,1,3),
  thick: fc.constantFrom(0.5,2,4),
  angle: fc.constantFrom(35,80),
  inner: fc.constantFrom(0,0.3,2),
  area: fc.constantFrom(20,200),
  bed: fc.constantFrom(50, 90,600),
  down: fc.constantFrom(1,1,1.5,0.6),
});
test("explore", () => {
  const seen = new Map<string,number>(); const bad = new Map<string,[number,string]>(); const none = new Map<string,[number,string]>();
  const samples = fc.sample(fc.tuple(panelArb,setArb), {numRuns: Number(process.env["RUNS"] ?? 300), seed: Number(process.env["SEED"] ?? 1)});
  for (const [panel,s] of samples) {
    const profile = leatherProfile({kerfMm:s.kerf, clearancePerSideMm:s.clearance, widthPerPitch:s.wpp, gapPerPitch:s.gpp, easeRadiusMm:s.ease, thicknessMm:s.thick, leastAngleDeg:s.angle, leastInnerRadiusMm:s.inner, leastPartAreaMm2:s.area, bedWidthMm:s.bed, bedHeightMm:s.bed},{way:s.way,corner:s.corner});
    const overrides = { ...(s.width===undefined?{}:{widthMm:s.width}), ...(s.gap===undefined?{}:{gapMm:s.gap}), pitchMm:{across:s.pitch,down:s.pitch*s.down} };
    const design = panelDesign(panel);
    let job;
    try { job = prepareJob(design,"t",profile,overrides); } catch (e) { const k="CRASH "+String(e); const b=bad.get(k); bad.set(k,[(b?.[0]??0)+1, b?.[1] ?? JSON.stringify({panel,s})]); continue; }
    if (!job.ok) { console.log(job.faults); continue; }
    for (const check of job.value.job.checks) {
      if (check.verdict==="pass") continue;
      if (check.remedies.length===0) { const n=none.get(check.rule); none.set(check.rule,[(n?.[0]??0)+1, n?.[1] ?? JSON.stringify({panel,s})]); }
      for (const remedy of check.remedies) {
        const key = `${check.rule} ${remedy.change}`;
        seen.set(key,(seen.get(key)??0)+1);
        const next = applyRemedy({profile,overrides},remedy);
        let again; try { again = prepareJob(design,"t",next.profile,next.overrides);} catch(e) { const k="CRASH2 "+String(e); const b=bad.get(k); bad.set(k,[(b?.[0]??0)+1, b?.[1] ?? JSON.stringify({panel,s,remedy})]); continue; }
        const v = again.ok ? checkOf(again.value,check.rule) : undefined;
        if (v?.verdict!=="pass") { const b=bad.get(key); bad.set(key,[(b?.[0]??0)+1, b?.[1] ?? JSON.stringify({panel,s,remedy,was:check.measured,now:v?.measured,limit:v?.limit, faults: again.ok?undefined:again.faults})]); }
      }
    }
  }
  console.log("SEEN",seen); console.log("BAD"); for (const [k,[n,e]] of bad) console.log(k,n,e); console.log("NONE"); for (const [k,[n,e]] of none) console.log(k,n,e);
  expect(1).toBe(1);
}, 600000);
