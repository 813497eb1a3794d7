/**
 * How good the questions are: classical test theory and the Rasch model, over the scores that persons had on items. Plain
 * figures; what they are scores of, and what is shown of them to whom, is the caller's.
 */
package ferrule.report.items;
