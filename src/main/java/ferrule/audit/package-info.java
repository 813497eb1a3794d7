/**
 * Who saw or changed what: a trail that each request leaves, and the pages on which it is read.
 *
 * <p>{@link ferrule.audit.Meanings} says what each route means; {@link ferrule.audit.AuditTrail} takes in what happens and
 * says what of it may be lost.
 */
package ferrule.audit;
