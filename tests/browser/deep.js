/**
 * Look through all shadow roots of the page: how many stages and strokes are drawn, and what the title says.
 *
 * Passed as text to three different browser drivers, so it is one expression.
 */
(() => {
  const all = (root, selector) => [
    ...root.querySelectorAll(selector),
    ...[...root.querySelectorAll("*")].flatMap((node) => (node.shadowRoot ? all(node.shadowRoot, selector) : [])),
  ];
  const stages = all(document, "[data-stage]");
  return {
    stages: new Set(stages.map((node) => node.getAttribute("data-stage"))).size,
    strokes: all(document, "[data-id]").length,
    title: document.title,
  };
})()
