// Suggest the zone of this device where none is chosen: who enters a site mostly is near.

const zone = document.querySelector("select[name=zone]");
const here = Intl.DateTimeFormat().resolvedOptions().timeZone;
if (zone && !zone.value && [...zone.options].some((one) => one.value === here)) zone.value = here;
