import shared from '../../../../i18n/fr.json';
import page from '../fr.json';

export default { shared, page };
