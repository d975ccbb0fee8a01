/** What a colour means on every page: measured, expected, ordered, needs attention; and the ground. */
export const roleTokens = `
:root { --panel: #f3f1ea; --ink2: #45525d; --ink3: #626e78; --hair: #dcd8cd; --rule: #7f8a92; --water1: #e0edf2; --water2: #c0dbe6;
  --water-line: #3a7d99; --water-ink: #1d5b75; --plan: #a86c00; --plan-ink: #7a4e00; --alarm: #a01d5c; --alarm-pale: #f8e6ee; }
@media screen and (prefers-color-scheme: dark) {
  :root { --panel: #18222a; --ink2: #b9c4cb; --ink3: #93a0aa; --hair: #2d3a44; --rule: #6b7a86; --water1: #16303d; --water2: #1d475a;
    --water-line: #6fb6d2; --water-ink: #9fd3e7; --plan: #e0a63a; --plan-ink: #efc069; --alarm: #f286b8; --alarm-pale: #2f1625; }
}
`;
