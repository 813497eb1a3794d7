/**
 * Putting forms together: from a table of specifications and from what could be asked, which items stand in a form, so that
 * several forms of one table are equally hard. It knows nothing of what an item is.
 */
package ferrule.drill.form;
