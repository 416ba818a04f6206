// Light or dark as it was last chosen, before anything is painted.
try {
  const chosen = localStorage.getItem("lapwright.theme");
  if (chosen === "light" || chosen === "dark") document.documentElement.dataset.theme = chosen;
} catch { /* no storage: as the system */ }
