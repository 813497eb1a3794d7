/**
 * An apprentice's whole record, to be carried away: competencies, evidence, signatures, and the proof that all of it
 * stands in the log; on screen, on paper, as a file, and by a link that the apprentice gives to somebody and can take
 * back.
 *
 * <p>It knows {@code competency}, {@code bench} and what is below them. Start at {@link ferrule.dossier.Dossier}, then
 * {@link ferrule.dossier.DossierBook}; links are {@link ferrule.dossier.ShareLink}.
 */
package ferrule.dossier;
