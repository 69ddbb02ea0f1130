// The QR code brings the code behind the #, which no browser sends to anybody; it is put into the field and taken out of
// the address, so that it is in no history.

const field = document.getElementById("code");
const brought = /^#([0-9A-Za-z]{4})([0-9A-Za-z]{4})$/.exec(location.hash);
if (field && brought) {
  field.value = `${brought[1]}-${brought[2]}`.toUpperCase();
  history.replaceState(null, "", location.pathname);
  document.getElementById("name")?.focus();
}
