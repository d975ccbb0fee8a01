/** Text made safe to stand between tags and inside quoted attributes. */
export function escapeHtml(text: string): string {
  return text.replace(/[&<>"']/g, (mark) => `&#${mark.charCodeAt(0)};`);
}
