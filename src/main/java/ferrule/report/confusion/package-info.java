/**
 * Which parts a class takes for which: shares with the numbers that they are of, and what is worth teaching again. Plain
 * figures; start at {@link ferrule.report.confusion.Confusion}.
 */
package ferrule.report.confusion;
