/**
 * The errors that are raised on purpose, as models/errors.py has them.
 */

/** What was typed cannot be used; `faults` is [{field, message}]. */
export class InputError extends Error {
  constructor(...faults) {
    super(faults.map(({ field, message }) => `${field}: ${message}`).join("; "));
    this.name = "InputError";
    this.faults = faults;
  }
}

/** A rule cannot be read: better no verdict than a misread one. */
export class CriteriaError extends Error {
  constructor(message) {
    super(message);
    this.name = "CriteriaError";
  }
}
