"""How a published plan looks in a browser: light and dark, on a telephone and on paper."""

from typing import Final

STYLE: Final = """
:root { color-scheme: light dark; --ink: #1c1b19; --paper: #ffffff; --soft: #f1efea;
  --line: #b9b4aa; --danger: #a11212; --link: #1a4f8a; }
@media (prefers-color-scheme: dark) { :root { --ink: #eceae6; --paper: #1b1a18; --soft: #292724;
  --line: #6a665e; --danger: #ff9a8f; --link: #9cc4f2; } }
* { box-sizing: border-box; }
body { margin: 0 auto; padding: 1rem; max-width: 62rem; background: var(--paper);
  color: var(--ink); font: 1rem/1.5 system-ui, "Segoe UI", Helvetica, Arial, sans-serif;
  overflow-wrap: anywhere; }
h1, h2, h3, h4 { line-height: 1.25; margin: 1.6em 0 0.5em; }
h1 { margin-top: 0; }
h4 { font-size: 1.1rem; }
p, li, td, th, h1, h4, figcaption { unicode-bidi: isolate; }
a { color: var(--link); }
ul, ol { padding-left: 1.3rem; }
.notice { font-weight: bold; }
fieldset { border: 1px solid var(--line); border-radius: 0.4rem; }
fieldset label { display: inline-block; padding: 0.5rem 1rem 0.5rem 0; }
input { width: 1.1rem; height: 1.1rem; vertical-align: -0.15rem; }
table { width: 100%; border-collapse: collapse; font-size: 0.92rem; }
caption { text-align: left; font-size: 0.92rem; padding-bottom: 0.3rem; }
th, td { border: 1px solid var(--line); padding: 0.3rem 0.45rem; text-align: left;
  vertical-align: top; overflow-wrap: break-word; }
th { background: var(--soft); }
td:last-child { min-width: 7rem; }
figure { margin: 1rem 0; overflow-x: auto; }
figure svg { display: block; width: 100%; min-width: 34rem; max-width: 180mm; height: auto; }
figure svg.small { min-width: 0; max-width: 88mm; }
.panel { border-top: 2px solid var(--line); }
.bar { background: var(--soft); border-left: 0.4rem solid var(--line); padding: 0.3rem 0.6rem;
  margin: 0.6rem 0; }
.row { margin: 0.6rem 0 0.6rem 0.2rem; }
.row p { margin: 0; font-weight: bold; }
.row ul { margin: 0.2rem 0; }
.row label { display: inline-block; padding: 0.25rem 1rem 0.25rem 0; }
.passes { list-style: none; padding-left: 0; }
.passes li { display: inline-block; }
.danger { color: var(--danger); font-weight: bold; }
body:has(#show-in:checked) #mm, body:has(#show-mm:checked) #in { display: none; }
@supports not selector(:has(a)) { fieldset { display: none; } }
@media (max-width: 44rem) {
  table, caption, tbody, tr { display: block; }
  thead { display: none; }
  tr { border: 1px solid var(--line); border-radius: 0.4rem; margin: 0.6rem 0; padding: 0.3rem; }
  td { border: 0; padding: 0.1rem 0.8rem 0.1rem 0.3rem; display: inline-block; }
  td:empty { display: none; }
  td::before { content: attr(data-heading) ": "; font-weight: bold; }
}
@media print {
  :root { color-scheme: light; --ink: #000000; --paper: #ffffff; --soft: #eeeeee;
    --line: #777777; --danger: #000000; --link: #000000; }
  @page { margin: 12mm; }
  body { max-width: none; padding: 0; font-size: 10pt; line-height: 1.3; }
  table { font-size: 8.5pt; }
  th, td { padding: 0.15rem 0.3rem; }
  input { width: 0.9rem; height: 0.9rem; }
  fieldset, nav { display: none; }
  figure { overflow: visible; break-inside: avoid; }
  figure svg { width: 180mm; min-width: 0; max-width: 100%; }
  figure svg.small { width: 88mm; }
  h2, h3, h4, caption, thead { break-after: avoid; }
  tr, .row, .bar, .panel > p { break-inside: avoid; }
  h1, h2, h3, h4 { margin: 0.9em 0 0.3em; }
  .bar { break-after: avoid; margin: 0.3rem 0; }
  .row { margin: 0.3rem 0; }
  thead { display: table-header-group; }
}
"""
"""Needs nothing from elsewhere: no script, no font, no picture."""
