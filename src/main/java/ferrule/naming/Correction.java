package ferrule.naming;

/**
 * A typed word that was read as another spelling of a word that the glossary knows.
 *
 * @param typed the word in normal form as it was typed, such as "crok"
 * @param read the word or words that it was read as, such as "crook"
 */
public record Correction(String typed, String read) {}
