/**
 * Reading a typed phrase into the part that it picks out, and judging it as a fair instructor would.
 *
 * <p>It knows {@code glossary} and nothing else: no database, no web. Start at {@link ferrule.naming.TermReader}, whose
 * comment holds the rules; what it says of an answer is a {@link ferrule.naming.Verdict}, what it is worth a {@link
 * ferrule.naming.CreditPolicy}, and what an instructor decides about an answer that it did not know a {@link
 * ferrule.naming.Ruling}.
 */
package ferrule.naming;
