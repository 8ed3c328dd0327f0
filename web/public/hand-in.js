// Part of the service worker: files that another program hands to the installed page are laid aside for it.
self.addEventListener("fetch", (event) => {
  const { request } = event;
  if (request.method !== "POST" || request.url !== new URL("hand-in", self.registration.scope).href) return;
  event.respondWith((async () => {
    const [form, cache] = await Promise.all([request.formData(), caches.open("handed-in")]);
    for (const [at, file] of form.getAll("files").entries()) {
      await cache.put(`./handed-in/${at}`, new Response(file, { headers: { "x-name": encodeURIComponent(file.name) } }));
    }
    return Response.redirect("./#/jobs", 303);
  })());
});
