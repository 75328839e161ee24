// Brings the outside programs that open what we write: they are no part of the package, and
// run before it is built, so this file needs node alone. On Debian as root it installs what is
// missing; elsewhere it says which checks cannot run. It fails only under CI=true.
import { spawnSync } from "node:child_process";

/**
 * Debian package, the checks that it serves, and a call that succeeds where it is installed.
 * Python modules of Debian belong to its own Python, which is not always the first on the PATH.
 */
const PROGRAMS = [
  ["python3-ezdxf", "DXF files, read and audited", ["/usr/bin/python3", "-c", "import ezdxf"]],
  ["gdal-bin", "DXF files, read by a second program", ["ogrinfo", "--version"]],
  ["python3-shapely", "outlines: valid, areas, distances", ["/usr/bin/python3", "-c", "import shapely"]],
  ["python3-networkx", "graphs: the same up to names", ["/usr/bin/python3", "-c", "import networkx"]],
  ["librsvg2-bin", "SVG files, drawn", ["rsvg-convert", "--version"]],
  ["libxml2-utils", "SVG files, well formed", ["xmllint", "--version"]],
  ["regina-normal", "knots: polynomials, linking numbers", ["/usr/bin/python3", "-c", "import regina"]],
  ["linuxcnc-uspace", "router programs, interpreted", ["sh", "-c", "command -v rs274"]],
  ["stlcmd", "meshes, looked through for open edges", ["sh", "-c", "command -v stl_borders"]],
  ["strace", "job folders on failing drives and in killed runs", ["strace", "-V"]],
  ["chromium", "pages, drawn by a browser", ["chromium", "--version"]],
  ["poppler-utils", "PDF files, read and drawn", ["pdftoppm", "-v"]],
];

function missingPrograms() {
  const names = PROGRAMS.map(([name]) => name);
  // biome-ignore lint/suspicious/noTemplateCurlyInString: dpkg-query fills these in, not JavaScript.
  const query = spawnSync("dpkg-query", ["-W", "-f", "${Package} ${db:Status-Status}\n", ...names], {
    encoding: "utf8",
  });
  if (query.error === undefined) {
    const installed = new Set(query.stdout.split("\n"));
    return PROGRAMS.filter(([name]) => !installed.has(`${name} installed`));
  }
  return PROGRAMS.filter(([, , [program, ...words]]) => spawnSync(program, words).status !== 0);
}

/** Installs Debian packages; what the installer says is shown only when it fails. */
function install(names) {
  console.log(`Installing the outside programs that tests use: ${names.join(" ")}`);
  for (const words of [["update"], ["install", "-y", "--no-install-recommends", ...names]]) {
    const { status, stdout, stderr, error } = spawnSync("apt-get", ["-q", ...words], {
      encoding: "utf8",
      env: { ...process.env, DEBIAN_FRONTEND: "noninteractive" },
      maxBuffer: 64 * 2 ** 20,
    });
    if (status === 0) continue;
    console.error(`${stdout ?? ""}${stderr ?? ""}${error?.message ?? ""}`);
    console.error(`apt-get ${words[0]} failed.`);
    return;
  }
}

let missing = missingPrograms();
const canInstall = process.getuid?.() === 0 && spawnSync("apt-get", ["--version"]).status === 0;
if (missing.length > 0 && canInstall) {
  install(missing.map(([name]) => name));
  missing = missingPrograms();
}
if (missing.length > 0) {
  console.error("These checks cannot run, for want of an outside program (named as Debian's package):");
  for (const [name, serves] of missing) console.error(`  ${name.padEnd(16)} ${serves}`);
  if (process.env.CI === "true") {
    console.error("Under CI=true every check must run.");
    process.exit(1);
  }
}
