/**
 * How long things take, some of which are not over yet: the product-limit estimate, and quartiles. Plain figures; what
 * they are of, and what is shown of them to whom, is the caller's.
 */
package ferrule.report.wait;
