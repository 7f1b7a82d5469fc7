// A long run goes on by itself while its page is open; without a script a button does it.
for (const form of document.querySelectorAll("form[data-onward]")) {
  form.requestSubmit();
}
