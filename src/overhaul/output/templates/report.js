(() => {
  const form = document.getElementById("find"), words = document.getElementById("words"), shown = document.getElementById("shown");
  const lines = [...document.querySelectorAll(".binder > li")];
  const recipes = lines.map(line => ({ line, whole: document.getElementById(line.dataset.to), grades: line.dataset.grades.split(" ") }));
  const low = text => text.toLowerCase().normalize("NFKD").replace(/\p{M}/gu, "").replace(/\s+/g, " ");
  // The words of a recipe are gathered when they are first asked for.
  const text = one => one.text ??= low(one.line.textContent + " " + one.whole.textContent);
  function find() {
    const grade = form.elements.grade.value, wanted = low(words.value).split(" ").filter(Boolean);
    let count = 0;
    for (const one of recipes) {
      const there = (!grade || one.grades.includes(grade)) && wanted.every(word => text(one).includes(word));
      one.line.hidden = one.whole.hidden = !there;
      count += there;
    }
    shown.textContent = count === recipes.length ? "" : `${count} of ${recipes.length} recipes shown`;
  }
  let later;
  words.addEventListener("input", () => { clearTimeout(later); later = setTimeout(find, 120); });
  form.addEventListener("change", find);
  form.addEventListener("submit", event => { event.preventDefault(); find(); });
  // A link to a recipe that is filtered out shows all again.
  addEventListener("hashchange", () => {
    const to = document.getElementById(location.hash.slice(1));
    if (to?.closest("[hidden]")) { form.reset(); find(); to.scrollIntoView(); }
  });
  addEventListener("pageshow", find);
  form.hidden = false;
})();
