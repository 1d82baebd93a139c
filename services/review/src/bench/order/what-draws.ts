const KNOWN = 'what draws';

/** Asked of a canvas of its own, so that nothing complains where there is none; once for a tab, for asking takes a while where it is drawn in software. */
export function whatDraws(): 'card' | 'software' | null {
  const known = sessionStorage.getItem(KNOWN);
  if (known === 'card' || known === 'software') return known;
  const context = document.createElement('canvas').getContext('webgl2');
  if (context === null) return null;
  const told = context.getExtension('WEBGL_debug_renderer_info');
  const name = told === null ? '' : String(context.getParameter(told.UNMASKED_RENDERER_WEBGL));
  context.getExtension('WEBGL_lose_context')?.loseContext();
  const by = /swiftshader|llvmpipe|software|basic render/i.test(name) ? 'software' : 'card';
  sessionStorage.setItem(KNOWN, by);
  return by;
}
